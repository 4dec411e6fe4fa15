/** Compares text by code units: the same everywhere, whatever the language of the machine. */
export function compareText(left: string, right: string): number {
  if (left === right) return 0;
  return left < right ? -1 : 1;
}

/** The lists of elements that share a key, in the order in which the keys first came. */
export function listBy<Key, Element>(
  list: Iterable<Element>,
  keyOf: (element: Element) => Key,
): ReadonlyMap<Key, Element[]> {
  const lists = new Map<Key, Element[]>();
  for (const element of list) {
    const key = keyOf(element);
    const known = lists.get(key);
    if (known === undefined) lists.set(key, [element]);
    else known.push(element);
  }
  return lists;
}

/** The first index in a sorted list for which `isPast` holds; the list's length when there is none. */
export function firstIndexWhere<Element>(list: readonly Element[], isPast: (element: Element) => boolean): number {
  let [low, high] = [0, list.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    const element = list[middle];
    if (element !== undefined && isPast(element)) high = middle;
    else low = middle + 1;
  }
  return low;
}
