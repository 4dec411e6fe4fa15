import { ALIGNMENT_BYTES, alignedLength } from './aligned-memory.ts';
import type { BufferShelf } from './buffer-shelf.ts';

/** Reads at a position into the whole of `bytes`, which is aligned; gives the count, 0 at the end of the file. */
export type ReadAt = (bytes: Uint8Array, position: number) => Promise<number>;

/** A stretch of a file in a lent buffer. `release` must be called once, when nobody needs the bytes any more. */
export interface Chunk {
  readonly bytes: Uint8Array;
  /** The whole lent buffer, for a writer that must pad the last chunk. */
  readonly buffer: Uint8Array;
  readonly position: number;
  readonly release: () => void;
}

export interface ReadAheadOptions {
  /** Where to begin, on a block's boundary; at the beginning when not given. */
  readonly startAt?: number;
  readonly sizeInBytes: number;
  readonly shelf: BufferShelf;
  /** How many reads may be in flight at once. */
  readonly depth: number;
}

/**
 * Yields a file's chunks in order while the next ones are already being read. Ends early when the file does. A consumer
 * that stops half-way leaves no read and no buffer behind.
 */
export async function* readAhead(readAt: ReadAt, options: ReadAheadOptions): AsyncGenerator<Chunk, void, undefined> {
  const { startAt = 0, sizeInBytes, shelf, depth } = options;
  const inFlight: Promise<Chunk>[] = [];
  let position = startAt;
  const startReads = (): void => {
    while (inFlight.length < depth && position < sizeInBytes) {
      const length = Math.min(shelf.bufferSize, sizeInBytes - position);
      const started = readChunk(readAt, { shelf, position, length });
      // Its failure is met when its turn comes; until then it must not count as unhandled.
      started.catch(() => undefined);
      inFlight.push(started);
      position += length;
    }
  };
  try {
    for (startReads(); inFlight.length > 0; startReads()) {
      const chunk = await inFlight[0];
      void inFlight.shift();
      if (chunk === undefined) return;
      startReads();
      yield chunk;
      if (chunk.bytes.length < Math.min(shelf.bufferSize, sizeInBytes - chunk.position)) return;
    }
  } finally {
    for (const outcome of await Promise.allSettled(inFlight)) {
      if (outcome.status === 'fulfilled') outcome.value.release();
    }
  }
}

export interface Stretch {
  readonly shelf: BufferShelf;
  readonly position: number;
  readonly length: number;
}

/** Reads one stretch into a buffer of the shelf. It may turn out shorter where the file ends. */
export async function readChunk(readAt: ReadAt, { shelf, position, length }: Stretch): Promise<Chunk> {
  const buffer = await shelf.take();
  try {
    const count = await readFully(readAt, buffer.subarray(0, alignedLength(length)), { position, length });
    return {
      bytes: buffer.subarray(0, Math.min(count, length)),
      buffer,
      position,
      release: () => shelf.giveBack(buffer),
    };
  } catch (error) {
    shelf.giveBack(buffer);
    throw error;
  }
}

async function readFully(readAt: ReadAt, bytes: Uint8Array, wanted: Omit<Stretch, 'shelf'>): Promise<number> {
  let done = 0;
  for (;;) {
    const count = await readAt(bytes.subarray(done), wanted.position + done);
    const total = done + count;
    if (count === 0 || total >= wanted.length) return total;
    // After a short read, direct I/O can only go on from an aligned place; no progress there means the end of the file.
    const goOnAt = total - (total % ALIGNMENT_BYTES);
    if (goOnAt === done) return total;
    done = goOnAt;
  }
}
