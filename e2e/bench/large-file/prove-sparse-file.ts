import { mkdir, open, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { failureOf } from '@quayside/shoot';
import { writeFolderVolumeMarker } from '@quayside/volumes';
import { type ProvenRoll, proveRoll } from '../service/prove-roll.ts';
import { makeMemoryDisk } from './memory-disk.ts';

export interface SparseWork {
  readonly folder: string;
  readonly sizeInBytes: number;
  readonly say: (line: string) => void;
}

export interface SparseRun {
  readonly sizeInBytes: number;
  readonly roll: ProvenRoll | null;
  /** Why there is no roll; empty when there is. */
  readonly why: string;
}

/** Has a huge file of nothing proven at two destinations in compressed memory, to see what memory that takes. */
export async function proveSparseFile({ folder, sizeInBytes, say }: SparseWork): Promise<SparseRun> {
  const source = join(folder, 'wheel');
  try {
    await using disk = await makeMemoryDisk(join(folder, 'memory'), Math.ceil(sizeInBytes * 2.1) + 2 ** 30);
    await mkdir(source);
    await writeFolderVolumeMarker(source, { label: 'WHEEL' });
    await using file = await open(join(source, 'clip.mov'), 'wx');
    await file.truncate(sizeInBytes);
    const roll = await proveRoll({ folder, source, destinations: [join(disk.path, 'a'), join(disk.path, 'b')] });
    say(`large-file: ${sizeInBytes / 2 ** 30} GiB, sparse: ${roll.seconds.toFixed(1)} s`);
    return { sizeInBytes, roll, why: '' };
  } catch (error) {
    const why = failureOf(error).sentence;
    say(`large-file: the sparse file could not be measured: ${why}`);
    return { sizeInBytes, roll: null, why };
  } finally {
    await rm(source, { recursive: true, force: true });
  }
}
