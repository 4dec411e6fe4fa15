/** Gives a function that runs what it is given one after the other; a failure of one does not stop the next. */
export function oneAtATime(): <Result>(work: () => Promise<Result>) => Promise<Result> {
  let last: Promise<unknown> = Promise.resolve();
  return async (work) => {
    const mine = last.then(work, work);
    last = mine.catch(() => null);
    return mine;
  };
}
