/** Does the work for each item, a few at a time: while one waits for a disk or for Redis, the next goes on. Ends at the first failure. */
export async function forEachOf<Item>(
  items: Iterable<Item>,
  atOnce: number,
  work: (item: Item) => Promise<void>,
): Promise<void> {
  const rest = items[Symbol.iterator]();
  const goOn = async (): Promise<void> => {
    for (let next = rest.next(); next.done !== true; next = rest.next()) await work(next.value);
  };
  await Promise.all(Array.from({ length: atOnce }, goOn));
}
