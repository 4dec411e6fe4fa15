import fc from 'fast-check';
import { expect, it } from 'vitest';
import { shortenMiddle, showText } from './show-text.ts';

it('text that can be seen stays as it is, in any script', () => {
  for (const text of ['kiln 窯.mov', 'e\u0301', '👩\u200D🎨', 'نار', 'a  b', '<b>&amp;</b>'])
    expect(showText(text)).toBe(text);
});

it('what cannot be seen, breaks the line or turns the text round stands as its code', () => {
  expect(showText('a\u202Egpj.mov')).toBe('a\\u{202e}gpj.mov');
  expect(showText('a\r\n\tb\u0000\u2028\uFEFF')).toBe('a\\u{000d}\\u{000a}\\u{0009}b\\u{0000}\\u{2028}\\u{feff}');
  expect(showText('\uD800')).toBe('\uFFFD');
});

it('a shortened name keeps its end, and is never wider than asked', () => {
  expect(shortenMiddle('wheel-1-10000000', 16)).toBe('wheel-1-10000000');
  expect(shortenMiddle('wheel-1-10000000', 10)).toBe('whe…000000');
  expect(shortenMiddle('窯の中の様子', 7)).toBe('窯…様子');
  expect(shortenMiddle('wheel', 1)).toBe('…');
  fc.assert(
    fc.property(fc.string({ unit: 'grapheme' }), fc.integer({ min: 1, max: 40 }), (text, length) => {
      expect([...new Intl.Segmenter('en').segment(shortenMiddle(text, length))].length).toBeLessThanOrEqual(length);
    }),
  );
});
