/** The middle value of a list that is not empty; the lower of two. Leaves the list as it is. */
export function lowerMedian(values: readonly number[]): number {
  return sorted(values)[(values.length - 1) >> 1] ?? 0;
}

/** The middle value of a list that is not empty; the higher of two. */
export function upperMedian(values: readonly number[]): number {
  return sorted(values)[values.length >> 1] ?? 0;
}

/** The median distance of the values from their median; of two values, the larger. */
export function spreadOf(values: readonly number[]): number {
  const middle = lowerMedian(values);
  return upperMedian(values.map((value) => Math.abs(value - middle)));
}

/** At most `count` elements, evenly spread, the first and the last among them. */
export function sampleEvenly<Element>(list: readonly Element[], count: number): readonly Element[] {
  if (list.length <= count) return list;
  const step = (list.length - 1) / (count - 1);
  return list.filter((_, index) => Math.floor(Math.ceil(index / step) * step) === index);
}

function sorted(values: readonly number[]): readonly number[] {
  return values.toSorted((left, right) => left - right);
}
