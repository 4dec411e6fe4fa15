import { copiesToTryAgain } from '@quayside/pipeline';
import type { Roll } from '@quayside/shoot';

const FIRST_PAUSE_MS = 60_000;
const MOST_RETRIES = 6;

/**
 * Says when failures that may pass by themselves are to be tried again: a minute after they were first seen, then two, four
 * and so on, some times. It forgets when the worker ends, which only makes the pause begin anew; and it counts from the
 * failure, not from the roll's last change, since a connected drive is judged again every minute.
 */
export class RetryClock {
  readonly #seen = new Map<string, { readonly attempts: number; readonly atMs: number }>();

  /** `nowMs` is of a clock that only goes on. */
  isDue(roll: Roll, nowMs: number): boolean {
    const waiting = copiesToTryAgain(roll);
    if (waiting.length === 0) {
      this.#seen.delete(roll.id);
      return false;
    }
    const attempts = Math.max(...waiting.map(({ attempt }) => attempt));
    if (attempts >= MOST_RETRIES) return false;
    const seen = this.#seen.get(roll.id);
    if (seen?.attempts !== attempts) {
      this.#seen.set(roll.id, { attempts, atMs: nowMs });
      return false;
    }
    return nowMs - seen.atMs > FIRST_PAUSE_MS * 2 ** attempts;
  }
}
