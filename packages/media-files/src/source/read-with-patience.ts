import { setTimeout as sleep } from 'node:timers/promises';
import { errorCodeOf } from '../direct-io/file-calls.ts';
import type { ReadAt } from '../direct-io/read-ahead.ts';

/** Growing pauses before a failed read is tried again: a drive that wakes up or a hub that resets needs about a second. */
const PAUSES_MS = [100, 400, 1600];
const PIECE_BYTES = 128 * 1024;

/** A read that failed for good; `position` is the first byte of the piece that cannot be read. */
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
      if (triesLeft === 1) throw new UnreadableError(position + done, { cause: error });
    }
  }
}
