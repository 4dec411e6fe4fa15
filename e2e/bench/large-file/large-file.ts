import { mkdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { writeFolderVolumeMarker } from '@quayside/volumes';
import type { BenchWork } from '../bench-work.ts';
import { runRival } from '../measures/run-rival.ts';
import { runTimed } from '../measures/run-timed.ts';
import type { Row } from '../row.ts';
import { proveRoll } from '../service/prove-roll.ts';
import { type LargeFileRound, largeFileRows } from './large-file-rows.ts';
import { measureLimit } from './measure-limit.ts';
import { proveSparseFile } from './prove-sparse-file.ts';
import { CP_AND_XXHSUM, CP_AND_XXHSUM_FROM_MEDIUM, RCLONE } from './rival-lines.ts';

/** How many times as large the sparse file is: 64 GiB beside 4 GiB. */
const SPARSE_TIMES = 16;

/** One large file of random bytes to two destinations, synced and read back: the disk's limit, ours, and two rivals. */
export async function benchLargeFile({ folder, options, say }: BenchWork): Promise<readonly Row[]> {
  const { sizeInBytes, repeat } = options;
  const source = join(folder, 'wheel');
  await mkdir(source);
  await writeFolderVolumeMarker(source, { label: 'WHEEL' });
  say(`large-file: making ${sizeInBytes / 2 ** 20} MiB of random bytes ...`);
  await runTimed(`head -c ${sizeInBytes} /dev/urandom > wheel/clip.mov`, folder);
  const rounds: LargeFileRound[] = [];
  for (let number = 1; number <= repeat; number += 1) {
    const limit = await measureLimit(folder, 'wheel/clip.mov');
    const ours = await proveRoll({ folder, source, destinations: [join(folder, 'a'), join(folder, 'b')] });
    const cp = await runRival(folder, CP_AND_XXHSUM);
    // Only where all are as cold as we are; once, since it tells no more than a note.
    const coldCp = number === 1 && ours.areCachesDropped ? await runRival(folder, CP_AND_XXHSUM_FROM_MEDIUM) : null;
    const rclone = await runRival(folder, RCLONE);
    rounds.push({ limit, ours, cp, coldCp, rclone });
    const seconds = { limit, ours: ours.seconds, cp: cp.seconds, rclone: rclone.seconds };
    say(`large-file: round ${number} of ${repeat}: ${tellSeconds(seconds)}`);
  }
  await rm(source, { recursive: true });
  const sparse = await proveSparseFile({ folder, sizeInBytes: sizeInBytes * SPARSE_TIMES, say });
  return largeFileRows({ rounds, sparse, sizeInBytes });
}

function tellSeconds(seconds: Readonly<Record<string, number>>): string {
  return Object.entries(seconds)
    .map(([name, value]) => `${name} ${value.toFixed(1)} s`)
    .join(', ');
}
