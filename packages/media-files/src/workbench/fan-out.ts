import type { Digests } from '@quayside/shoot';
import type { StopSignal } from '@quayside/step-sdk/built-in';
import { type Chunk, type ReadAt, readAhead, readChunk } from '../direct-io/read-ahead.ts';
import type { BufferShelf } from '../direct-io/buffer-shelf.ts';
import type { Hasher } from '../hashing/create-hasher.ts';

/** Where chunks go. A failure of one is its own matter: it must not hold up the others. */
export interface Sink {
  /** Takes the next chunk; settles when its bytes are no longer needed. Never rejects. */
  take(chunk: Chunk): Promise<void>;
  readonly hasFailed: () => boolean;
}

export interface FanOut {
  /** Where to begin; at the beginning when not given. */
  readonly startAt?: number;
  readonly sizeInBytes: number;
  readonly shelf: BufferShelf;
  readonly sinks: readonly Sink[];
  readonly hasher: Hasher;
  readonly signal: StopSignal;
  readonly onBytes: (bytes: number) => void;
}

/** Two reads ahead keep the source busy while a chunk is hashed; more would only take memory from the writers. */
const READS_AHEAD = 2;

export interface FanOutResult {
  /** From the start on. Less than expected when the file is shorter, or when every sink failed and reading on had no use. */
  readonly bytesRead: number;
  /** Of what was read. */
  readonly digests: Digests;
}

/** Reads a file once, and gives every chunk to the hasher and to all sinks. When it ends, also by throwing, no sink is busy. */
export async function fanOut(readAt: ReadAt, work: FanOut): Promise<FanOutResult> {
  const { sizeInBytes, shelf, hasher, signal } = work;
  const bytesRead = sizeInBytes <= shelf.bufferSize ? await pourAtOnce(readAt, work) : await pourInTurn(readAt, work);
  signal.throwIfAborted();
  return { bytesRead, digests: hasher.digests() };
}

/** One chunk is the whole file: without the machinery for many, which costs more than hashing a small file. */
async function pourAtOnce(readAt: ReadAt, work: FanOut): Promise<number> {
  const { sizeInBytes, shelf, hasher } = work;
  if (sizeInBytes === 0) return 0;
  const chunk = await readChunk(readAt, { shelf, position: 0, length: sizeInBytes });
  const given = giveToAll(chunk, work);
  hasher.update(chunk.bytes);
  const { length } = chunk.bytes;
  await given;
  return length;
}

async function pourInTurn(readAt: ReadAt, work: FanOut): Promise<number> {
  const { startAt = 0, sizeInBytes, shelf, sinks, hasher, signal } = work;
  const inFlight = new Set<Promise<void>>();
  let bytesRead = 0;
  try {
    for await (const chunk of readAhead(readAt, { startAt, sizeInBytes, shelf, depth: READS_AHEAD })) {
      const isPointless = signal.aborted || (sinks.length > 0 && sinks.every((sink) => sink.hasFailed()));
      if (isPointless) {
        chunk.release();
        break;
      }
      // The writes are under way while this thread hashes.
      const given = giveToAll(chunk, work).finally(() => inFlight.delete(given));
      inFlight.add(given);
      hasher.update(chunk.bytes);
      bytesRead += chunk.bytes.length;
    }
  } finally {
    await Promise.all(inFlight);
  }
  return bytesRead;
}

async function giveToAll(chunk: Chunk, { sinks, onBytes }: FanOut): Promise<void> {
  const { length } = chunk.bytes;
  await Promise.all(sinks.map((sink) => sink.take(chunk)));
  chunk.release();
  onBytes(length);
}
