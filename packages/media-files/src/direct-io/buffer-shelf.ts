import { allocateAligned } from './aligned-memory.ts';

/**
 * A fixed number of page-aligned buffers. Taking one waits while all are out: this is what holds a fast source back to
 * the speed of its slowest destination, and what bounds the memory of a mover whatever the files' sizes.
 */
export interface BufferShelf {
  readonly bufferSize: number;
  take(): Promise<Uint8Array>;
  giveBack(buffer: Uint8Array): void;
}

/** A shelf that allocates its buffers when they are first needed. */
export function createBufferShelf(bufferSize: number, count: number): BufferShelf {
  const free: Uint8Array[] = [];
  const waiting: ((buffer: Uint8Array) => void)[] = [];
  let made = 0;
  return {
    bufferSize,
    take: async () => {
      const buffer = free.pop();
      if (buffer !== undefined) return buffer;
      if (made < count) {
        made += 1;
        return allocateAligned(bufferSize);
      }
      return new Promise((resolve) => waiting.push(resolve));
    },
    giveBack: (buffer) => {
      const next = waiting.shift();
      if (next === undefined) free.push(buffer);
      else next(buffer);
    },
  };
}
