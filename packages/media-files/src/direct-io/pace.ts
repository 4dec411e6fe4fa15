/** Whether a drive answers promptly enough for one thread to do all that small files want, found out while it does. */
export interface Pace {
  /** Once false it stays so. */
  isPrompt(): boolean;
  /** Makes a call, and takes its time into account. */
  time<Value>(call: () => Value): Value;
  /** Says that the quick way was tried in vain; where that happens again and again it is no longer tried. */
  noteVain(): void;
}

/** A call that takes longer gains more by having others wait beside it than the waking of a thread for each costs. */
const PROMPT_MS = 2;
const CALLS_TO_JUDGE_BY = 32;
const MOST_IN_VAIN = 64;

/**
 * The pace of one drive for the length of a parcel. To wake another thread for a call takes longer than the call itself where
 * the drive is a solid-state one, so there this thread makes it; of a slow drive many files are asked at once by others.
 */
export function createPace(promptMs = PROMPT_MS): Pace {
  let isPrompt = true;
  let inVain = 0;
  let calls = 0;
  let spentMs = 0;
  return {
    isPrompt: () => isPrompt,
    time: (call) => {
      const startedAt = performance.now();
      try {
        return call();
      } finally {
        spentMs += performance.now() - startedAt;
        calls += 1;
        if (calls === CALLS_TO_JUDGE_BY) {
          isPrompt &&= spentMs < promptMs * calls;
          calls = 0;
          spentMs = 0;
        }
      }
    },
    noteVain: () => {
      inVain += 1;
      if (inVain === MOST_IN_VAIN) isPrompt = false;
    },
  };
}
