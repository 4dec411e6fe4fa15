import * as fc from 'fast-check';
import { expect, test } from 'vitest';
import { labelClaimedByBoth, matchesLabel } from './label-pattern.ts';

test.each([
  ['WHEEL', 'wheel', true],
  ['WHEEL', 'WHEEL 1', false],
  ['WHEEL*', 'wheel_0042', true],
  ['WHEEL_?', 'WHEEL_12', false],
  ['A.C', 'ABC', false],
  ['(A)+[B]-{C}|$^', '(a)+[b]-{c}|$^', true],
  ['/wheel/', 'THE WHEEL 2', true],
  ['/^wheel$/', 'THE WHEEL', false],
  ['РОЛИК*', 'ролик 7', true],
  ['陶芸?', '陶芸𠮟', true],
  ['CAFE\u0301', 'caf\u00E9', true],
  ['//', '//', true],
])('the pattern %s on the label %s gives %s', (pattern, label, expected) => {
  expect(matchesLabel(pattern, label)).toBe(expected);
});

test('a label without wildcards matches itself, whatever signs it holds', () => {
  const literal = fc
    .string({ unit: 'grapheme', minLength: 1 })
    .filter((text) => !/[*?]/.test(text) && !text.startsWith('/'));
  fc.assert(
    fc.property(literal, (label) => {
      expect(matchesLabel(label, label)).toBe(true);
    }),
  );
});

test.each([
  ['CARD_*', 'card_2', 'card_2'],
  ['A*', '*B', 'ab'],
  ['A?C', 'AB?', 'abc'],
  ['*', 'x', 'x'],
  ['/^W/', 'wheel', 'wheel'],
  ['wheel', '/heel/', 'wheel'],
])('%s and %s both claim "%s"', (one, other, label) => {
  expect(labelClaimedByBoth(one, other)).toBe(label);
});

test.each([
  ['WHEEL*', 'HANDS*'],
  ['A?', 'ABC'],
  ['?', '??'],
  ['/^W/', 'hands'],
  ['/^W/', '/^W./'],
])('%s and %s claim no label together, as far as can be told', (one, other) => {
  expect(labelClaimedByBoth(one, other)).toBeNull();
});

test('two patterns with wildcards share a label exactly when some label fits both', () => {
  const glob = fc.string({ unit: fc.constantFrom('a', 'b', '*', '?'), maxLength: 6 });
  const label = fc.string({ unit: fc.constantFrom('a', 'b'), maxLength: 6 });
  fc.assert(
    fc.property(glob, glob, label, (one, other, candidate) => {
      const both = labelClaimedByBoth(one, other);
      if (both !== null) expect([matchesLabel(one, both), matchesLabel(other, both)]).toStrictEqual([true, true]);
      else expect(matchesLabel(one, candidate) && matchesLabel(other, candidate)).toBe(false);
    }),
    { numRuns: 2000 },
  );
});
