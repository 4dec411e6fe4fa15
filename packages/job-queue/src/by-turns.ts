/**
 * Lets many ask for one work: it is done once at a time, and whoever asks while it is under way gets what the next round gives,
 * which begins after they asked. So nothing that they get is older than their asking, and a slow round is not done many times over.
 */
export function byTurns<Result>(work: () => Promise<Result>): () => Promise<Result> {
  let current: Promise<Result> | null = null;
  let next: Promise<Result> | null = null;
  const begin = (): Promise<Result> => {
    const round = work();
    current = round;
    const end = (): void => {
      if (current === round) current = null;
    };
    round.then(end, end);
    return round;
  };
  const beginNext = (): Promise<Result> => {
    next = null;
    return begin();
  };
  return () => {
    if (current === null) return begin();
    next ??= current.then(beginNext, beginNext);
    return next;
  };
}
