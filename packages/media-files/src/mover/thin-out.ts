/** Sums up amounts and tells them now and then, so that progress costs nothing. Nothing added is told too: something goes on. */
export interface ThinnedOut {
  readonly add: (amount: number) => void;
  /** Tells what is left at once, and no more after that until the next `add`. */
  flush(): void;
}

export function thinOut(everyMs: number, tell: (sum: number) => void): ThinnedOut {
  let sum = 0;
  let timer: NodeJS.Timeout | null = null;
  const flush = (): void => {
    if (timer === null) return;
    clearTimeout(timer);
    timer = null;
    tell(sum);
    sum = 0;
  };
  return {
    add: (amount) => {
      sum += amount;
      timer ??= setTimeout(flush, everyMs);
    },
    flush,
  };
}
