import { setTimeout as sleep } from 'node:timers/promises';
import { ALIGNMENT_BYTES } from '../direct-io/aligned-memory.ts';
import { errorCodeOf } from '../direct-io/file-calls.ts';
import type { ReadAt } from '../direct-io/read-ahead.ts';

/** Growing pauses before a failed read is tried again: a drive that wakes up or a hub that resets needs about a second. */
const PAUSES_MS = [100, 400, 1600];
const PIECE_BYTES = 128 * 1024;
/** No drive in use has larger ones, and direct I/O can ask for no less. */
const SECTOR_BYTES = ALIGNMENT_BYTES;

/** A read that failed for good; `position` is the first byte of the sector that cannot be read. */
export class UnreadableError extends Error {
  override readonly name = 'UnreadableError';
  readonly position: number;

  constructor(position: number, options: { readonly cause: unknown }) {
    super(`Unreadable at byte ${position}`, options);
    this.position = position;
  }
}

/**
 * Reads again after an I/O error, after growing pauses and in small pieces, so that one bad sector costs neither its
 * neighbours nor more than it must. `onTrouble` is asked first each time, and throws when there is no use in going on.
 */
export function readWithPatience(readAt: ReadAt, onTrouble: () => Promise<void>): ReadAt {
  return async (bytes, position) => {
    try {
      return await readAt(bytes, position);
    } catch (error) {
      if (errorCodeOf(error) !== 'EIO') throw error;
      return readInPieces(readAt, bytes, { position, onTrouble });
    }
  };
}

interface Trouble {
  readonly position: number;
  readonly onTrouble: () => Promise<void>;
}

async function readInPieces(readAt: ReadAt, bytes: Uint8Array, { position, onTrouble }: Trouble): Promise<number> {
  let done = 0;
  for (let triesLeft = PAUSES_MS.length; ; triesLeft -= 1) {
    await onTrouble();
    await sleep(PAUSES_MS[PAUSES_MS.length - triesLeft]);
    try {
      for (;;) {
        const piece = bytes.subarray(done, done + PIECE_BYTES);
        const count = await readAt(piece, position + done);
        done += count;
        if (count < piece.length || done >= bytes.length) return done;
      }
    } catch (error) {
      if (errorCodeOf(error) !== 'EIO') throw error;
      if (triesLeft > 1) continue;
      const readable = await readableBytes(readAt, bytes.subarray(done, done + PIECE_BYTES), position + done);
      throw new UnreadableError(position + done + readable, { cause: error });
    }
  }
}

/** How much of a piece that cannot be read as a whole can be read from its beginning on: to tell where it is bad. */
async function readableBytes(readAt: ReadAt, piece: Uint8Array, position: number): Promise<number> {
  for (let done = 0; done < piece.length; done += SECTOR_BYTES) {
    try {
      await readAt(piece.subarray(done, done + SECTOR_BYTES), position + done);
    } catch {
      return done;
    }
  }
  return 0;
}
