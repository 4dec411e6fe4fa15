import { type BufferShelf, createBufferShelf } from '../direct-io/buffer-shelf.ts';
import { createHasherShelf, type HasherShelf } from '../hashing/hasher-shelf.ts';

/** The memory and the hashers that one process works with, whatever passes through it. */
export interface Workbench {
  readonly hashers: HasherShelf;
  /** The shelf for a file of this size. */
  shelfFor(sizeInBytes: number): BufferShelf;
}

// 4 MiB moved as fast here as 8 MiB (both at the device's limit) with half the memory; below that it grew slower.
const LARGE_BUFFER = { sizeInBytes: 4 * 1024 * 1024, count: 4 };
const SMALL_BUFFER = { sizeInBytes: 256 * 1024, count: 32 };

/** At most this many files are in work at once; as many as there are small buffers. */
export const FILES_AT_ONCE = SMALL_BUFFER.count;

/** True for a file that fits in one small buffer. Such files go many at once, which is what makes ten thousand of them fast. */
export function isSmall(sizeInBytes: number): boolean {
  return sizeInBytes <= SMALL_BUFFER.sizeInBytes;
}

export function createWorkbench(): Workbench {
  const large = createBufferShelf(LARGE_BUFFER.sizeInBytes, LARGE_BUFFER.count);
  const small = createBufferShelf(SMALL_BUFFER.sizeInBytes, SMALL_BUFFER.count);
  return { hashers: createHasherShelf(), shelfFor: (sizeInBytes) => (isSmall(sizeInBytes) ? small : large) };
}
