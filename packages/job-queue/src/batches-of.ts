/** Cuts a list into pieces of at most `size`, in order, so that no single command to Redis grows without limit. */
export function* batchesOf<Item>(items: readonly Item[], size: number): Generator<readonly Item[]> {
  for (let start = 0; start < items.length; start += size) yield items.slice(start, start + size);
}
