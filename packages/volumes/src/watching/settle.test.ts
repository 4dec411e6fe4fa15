import * as fc from 'fast-check';
import { expect, it } from 'vitest';
import { settle, type Settling } from './settle.ts';

type Look = readonly [fingerprint: string, nowMs: number];

function statesOf(looks: readonly Look[], settleMs = 1000): readonly string[] {
  let last: Settling | null = null;
  return looks.map(([fingerprint, nowMs]) => {
    last = settle(last, fingerprint, { nowMs, settleMs });
    return last.state;
  });
}

it('a listing has settled once it was unchanged for the whole time', () => {
  expect(
    statesOf([
      ['a', 0],
      ['a', 999],
      ['a', 1000],
    ]),
  ).toEqual(['settling', 'settling', 'settled']);
});

it('a change starts the wait anew, also after it had settled', () => {
  expect(
    statesOf([
      ['a', 0],
      ['b', 900],
      ['b', 1800],
      ['b', 1900],
    ]),
  ).toEqual(['settling', 'settling', 'settling', 'settled']);
  expect(
    statesOf([
      ['a', 0],
      ['a', 1000],
      ['b', 1100],
    ]),
  ).toEqual(['settling', 'settled', 'settling']);
});

it('one look alone never settles, even with no time to wait', () => {
  expect(
    statesOf(
      [
        ['a', 5000],
        ['a', 5000],
      ],
      0,
    ),
  ).toEqual(['settling', 'settled']);
});

it('a clock that steps back does not shorten the wait', () => {
  expect(
    statesOf([
      ['a', 5000],
      ['a', 100],
      ['a', 1099],
      ['a', 1100],
    ]),
  ).toEqual(['settling', 'settling', 'settling', 'settled']);
  expect(
    statesOf([
      ['a', 5000],
      ['a', 4500],
      ['a', 5499],
    ]),
  ).toEqual(['settling', 'settling', 'settling']);
});

it('whatever the clock does, settled means that the last looks agree and span the time by a clock that only went forward', () => {
  const looks = fc.array(fc.tuple(fc.constantFrom('a', 'b'), fc.integer({ min: 0, max: 4000 })), { maxLength: 20 });
  fc.assert(
    fc.property(looks, (all) => {
      const states = statesOf(all);
      const first = states.indexOf('settled');
      if (first === -1) return;
      let start = first;
      const at = (index: number): Look => all[index] ?? ['', 0];
      while (start > 0 && at(start - 1)[0] === at(first)[0] && at(start - 1)[1] <= at(start)[1]) start -= 1;
      expect(at(first)[1] - at(start)[1]).toBeGreaterThanOrEqual(1000);
    }),
  );
});
