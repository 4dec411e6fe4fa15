import { assert, integer, property, string } from 'fast-check';
import { expect, it } from 'vitest';
import { printable } from './printable.ts';

it('never lets anything through that a terminal would obey', () => {
  assert(
    property(string({ unit: integer({ min: 0, max: 0xffff }).map((unit) => String.fromCharCode(unit)) }), (text) => {
      const shown = printable(text);
      // ECMA-48: C0 (00-1F), DEL and C1 (80-9F) are what starts a control sequence.
      const codes = Array.from(shown, (char) => char.codePointAt(0) ?? 0);
      expect(codes.filter((code) => code < 0x20 || (code >= 0x7f && code <= 0x9f))).toEqual([]);
      expect(shown.isWellFormed()).toBe(true);
    }),
  );
});

it.each([
  ['CLIPS/Ton größe 陶芸.mov', 'CLIPS/Ton größe 陶芸.mov'],
  ['a\u001b[31mb', String.raw`a\u{1b}[31mb`],
  ['two\nlines', String.raw`two\nlines`],
  ['byte\udcff', String.raw`byte\xff`],
  ['vom.\u202egpj', String.raw`vom.\u{202e}gpj`],
  ['\ud83c\udfac', '🎬'],
])('shows %j as %j', (text, shown) => {
  expect(printable(text)).toBe(shown);
});
