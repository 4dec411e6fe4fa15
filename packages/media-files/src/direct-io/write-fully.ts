import { ALIGNMENT_BYTES } from './aligned-memory.ts';

/** Writes at a position; gives the count. */
export type WriteAt = (bytes: Uint8Array, position: number) => Promise<number>;

/** Writes all the bytes at a position. A write may be short without an error (a nearly full disk), so it goes on until all is there. */
export async function writeFully(writeAt: WriteAt, bytes: Uint8Array, position: number): Promise<void> {
  let done = 0;
  while (done < bytes.length) {
    const total = done + (await writeAt(bytes.subarray(done), position + done));
    if (total === bytes.length) return;
    // Direct I/O can only go on from an aligned place; what was written beyond it is written again.
    const goOnAt = total - (total % ALIGNMENT_BYTES);
    done = goOnAt > done ? goOnAt : total;
  }
}
