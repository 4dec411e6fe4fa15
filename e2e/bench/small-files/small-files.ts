import { randomBytes } from 'node:crypto';
import { mkdir, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { writeFolderVolumeMarker } from '@quayside/volumes';
import type { BenchWork } from '../bench-work.ts';
import { noteOnRival, type RivalRun, runRival } from '../measures/run-rival.ts';
import { moversMemoryRow } from '../processes/memory-row.ts';
import { medianOf, type Row } from '../row.ts';
import { type ProvenRoll, proveRoll } from '../service/prove-roll.ts';

export const SMALL_FILES = { folders: 50, filesPerFolder: 200, sizeInBytes: 64 * 1024 };

const RSYNC_AND_XXHSUM =
  'rsync -a wheel/ a/ && rsync -a wheel/ b/ && find wheel a b -type f -print0 | xargs -0 xxhsum -H2';

/** Ten thousand small files to two destinations, synced and read back, the queue's share included: ours and a rival. */
export async function benchSmallFiles({ folder, options: { repeat }, say }: BenchWork): Promise<readonly Row[]> {
  const source = join(folder, 'wheel');
  say('small-files: making 10,000 files of 64 KiB ...');
  await layFiles(source);
  const rounds: { readonly ours: ProvenRoll; readonly rival: RivalRun }[] = [];
  for (let number = 1; number <= repeat; number += 1) {
    const ours = await proveRoll({ folder, source, destinations: [join(folder, 'a'), join(folder, 'b')] });
    const rival = await runRival(folder, RSYNC_AND_XXHSUM);
    rounds.push({ ours, rival });
    say(
      `small-files: round ${number} of ${repeat}: ours ${ours.seconds.toFixed(1)} s, rsync and xxhsum ${rival.seconds.toFixed(1)} s`,
    );
  }
  await rm(source, { recursive: true });
  return rowsOf(rounds);
}

function rowsOf(rounds: readonly { readonly ours: ProvenRoll; readonly rival: RivalRun }[]): readonly Row[] {
  const samples = rounds.map(({ ours, rival }) => rival.seconds / ours.seconds);
  const cores = medianOf(rounds.flatMap(({ ours }) => ours.coreSeconds ?? []));
  const what = '10,000 files of 64 KiB, ';
  return [
    {
      bench: 'small-files',
      what: `${what}speed beside rsync twice + xxhsum three times`,
      unit: 'times',
      value: medianOf(samples),
      samples,
      target: { sense: 'at least', limit: 1 },
      notes: [
        `\`${RSYNC_AND_XXHSUM}\``,
        noteOnRival(rounds.map(({ ours, rival }) => ({ ours: ours.seconds, rival }))),
        ...(cores === null ? [] : [`ours took ${cores.toFixed(1)} core-seconds, all processes`]),
      ],
    },
    moversMemoryRow(
      'small-files',
      `${what}peak memory of the processes that touch footage`,
      rounds.flatMap(({ ours }) => ours.memory ?? []),
    ),
  ];
}

async function layFiles(source: string): Promise<void> {
  const { folders, filesPerFolder, sizeInBytes } = SMALL_FILES;
  for (let number = 1; number <= folders; number += 1) {
    const folder = join(source, `take-${String(number).padStart(3, '0')}`);
    await mkdir(folder, { recursive: true });
    for (let file = 1; file <= filesPerFolder; file += 1)
      await writeFile(join(folder, `frame-${String(file).padStart(4, '0')}.dng`), randomBytes(sizeInBytes));
  }
  await writeFolderVolumeMarker(source, { label: 'WHEEL' });
}
