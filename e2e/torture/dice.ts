/** Chance that a seed repeats: the same seed throws the same numbers on every machine. */
export interface Dice {
  /** From 0, inclusive, to 1, exclusive. */
  fraction(): number;
  /** A whole number, both ends included. */
  between(least: number, most: number): number;
  /** @throws RangeError for an empty list. */
  pick<Value>(values: readonly Value[]): Value;
  shuffled<Value>(values: readonly Value[]): readonly Value[];
  /** True as often as the probability says. */
  happens(probability: number): boolean;
}

/** Dice for a seed; any text is one. */
export function takeDice(seed: string): Dice {
  let state = hashOf(seed);
  // mulberry32, by T. Ettinger, in the public domain: 32 bits of state do for picking faults.
  const fraction = (): number => {
    state = (state + 0x6d_2b_79_f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
  const between = (least: number, most: number): number => least + Math.floor(fraction() * (most - least + 1));
  const pick = <Value>(values: readonly Value[]): Value => {
    const index = between(0, values.length - 1);
    if (index >= values.length) throw new RangeError('There is nothing to pick from.');
    return values[index] as Value;
  };
  return {
    fraction,
    between,
    pick,
    happens: (probability) => fraction() < probability,
    shuffled: (values) =>
      values
        .map((value) => ({ value, place: fraction() }))
        .toSorted((one, other) => one.place - other.place)
        .map(({ value }) => value),
  };
}

/** FNV-1a, 32 bits (draft-eastlake-fnv). */
function hashOf(text: string): number {
  let hash = 0x81_1c_9d_c5;
  for (const byte of new TextEncoder().encode(text)) hash = Math.imul(hash ^ byte, 0x01_00_01_93) >>> 0;
  return hash;
}
