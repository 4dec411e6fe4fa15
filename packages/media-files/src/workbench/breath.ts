import { setImmediate as nextTurn } from 'node:timers/promises';

const EVERY_MS = 50;

/** Lets the event loop turn when it has not for a while. */
export interface Breath {
  isDue(): boolean;
  take(): Promise<void>;
}

/**
 * For a loop that works on its own thread: between one small file and the next the process must hear that it shall stop, and
 * tell how far it is.
 */
export function createBreath(everyMs = EVERY_MS): Breath {
  let takenAt = performance.now();
  return {
    isDue: () => performance.now() - takenAt >= everyMs,
    take: async () => {
      await nextTurn();
      takenAt = performance.now();
    },
  };
}
