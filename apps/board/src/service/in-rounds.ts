/**
 * Work that is done in rounds, never two at once: a wish during a round is answered by one more round after it. A round comes
 * by itself when none was wished for in `everyMs`.
 */
export interface Rounds {
  /** Asks for a round soon; many wishes within `settleMs` are one. */
  wish(): void;
}

/** Starts the first round at once and goes on until the signal aborts. `round` must not throw. */
export function inRounds(
  round: () => Promise<void>,
  { everyMs, settleMs }: { readonly everyMs: number; readonly settleMs: number },
  signal: AbortSignal,
): Rounds {
  let timer: ReturnType<typeof setTimeout> | undefined;
  let isBusy = false;
  let isWished = false;
  const plan = (ms: number): void => {
    clearTimeout(timer);
    if (!signal.aborted) timer = setTimeout(() => void run(), ms);
  };
  const run = async (): Promise<void> => {
    isBusy = true;
    isWished = false;
    await round();
    isBusy = false;
    plan(isWished ? settleMs : everyMs);
  };
  signal.addEventListener('abort', () => clearTimeout(timer));
  void run();
  return {
    wish() {
      if (isWished) return;
      isWished = true;
      if (!isBusy) plan(settleMs);
    },
  };
}
