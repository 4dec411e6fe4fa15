import { expect, it } from 'vitest';
import { takeDice } from './dice.ts';

it('throws the same numbers for the same seed, and others for another', () => {
  expect(numbers('7/3')).toEqual(numbers('7/3'));
  expect(numbers('7/4')).not.toEqual(numbers('7/3'));
});

it('throws every face about as often as the others', () => {
  const dice = takeDice('fair');
  const counts = [0, 0, 0, 0, 0, 0];
  for (let throws = 0; throws < 6000; throws += 1) {
    const face = dice.between(0, 5);
    counts[face] = (counts[face] ?? 0) + 1;
  }
  // Six standard deviations of a binomial with n = 6000, p = 1/6 are 173.
  for (const count of counts) expect(Math.abs(count - 1000)).toBeLessThan(173);
});

it('shuffles without losing anything, and picks from nothing never', () => {
  const dice = takeDice('cards');
  expect(new Set(dice.shuffled([1, 2, 3, 4, 5]))).toEqual(new Set([1, 2, 3, 4, 5]));
  expect(() => dice.pick([])).toThrow(RangeError);
});

function numbers(seed: string): readonly number[] {
  const dice = takeDice(seed);
  return Array.from({ length: 20 }, () => dice.fraction());
}
