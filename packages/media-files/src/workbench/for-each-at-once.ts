/**
 * Works through items in order, so many at once. After the first failure no new item is begun; it is thrown when the
 * running ones have ended, so nothing is left working behind the caller's back.
 */
export async function forEachAtOnce<Item>(
  items: readonly Item[],
  limit: number,
  work: (item: Item) => Promise<void>,
): Promise<void> {
  const queue = items.values();
  const failures: unknown[] = [];
  const lane = async (): Promise<void> => {
    for (const item of queue) {
      try {
        await work(item);
      } catch (error) {
        failures.push(error);
      }
      if (failures.length > 0) return;
    }
  };
  await Promise.all(Array.from({ length: Math.min(limit, items.length) }, lane));
  if (failures.length > 0) throw failures[0];
}
