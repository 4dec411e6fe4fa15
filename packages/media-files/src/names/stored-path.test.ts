import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bytesFromName, nameFromBytes } from './name-bytes.ts';
import { isStoredUnderOwnName, type NameFit, originalPathFor, storedPathFor } from './stored-path.ts';

const fit = fc.constantFrom<NameFit>('any', 'portable');
const TROUBLE = [
  '%',
  '%4',
  '%41',
  '%0A',
  '\n',
  ':',
  '"',
  '.',
  ' ',
  '\\',
  'é',
  '\uFFFE',
  'aux',
  'CON',
  'ascmhl',
  '.DS_Store',
  '~',
  'A',
  '2',
  '5',
];
const troubledName = fc
  .array(fc.constantFrom(...TROUBLE), { minLength: 1, maxLength: 8 })
  .map((parts) => parts.join(''));
const anyName = fc
  .uint8Array({ minLength: 1, maxLength: 80 })
  .map((bytes) => nameFromBytes(bytes.filter((byte) => byte !== 0 && byte !== 0x2f)));
const name = fc.oneof(troubledName, anyName).filter((text) => text !== '' && text !== '.' && text !== '..');
const path = fc.array(name, { minLength: 1, maxLength: 3 }).map((parts) => parts.join('/'));

describe('stored paths', () => {
  it('every path comes back from where it is stored', () => {
    fc.assert(
      fc.property(path, fit, (original, names) => {
        const stored = storedPathFor(original, names);
        const isShortened = stored.split('/').some((part) => part.includes('~') && bytesFromName(part).length > 230);
        fc.pre(!isShortened);
        expect(originalPathFor(stored)).toBe(original);
      }),
      { numRuns: 2000 },
    );
  });

  it('different paths are stored apart', () => {
    fc.assert(
      fc.property(path, path, fit, (one, other, names) => {
        fc.pre(one !== other);
        expect(storedPathFor(one, names)).not.toBe(storedPathFor(other, names));
      }),
      { numRuns: 2000 },
    );
  });

  it('no stored name is over 255 bytes, leaves its folder, or holds what XML 1.0 cannot', () => {
    const long = fc.array(name, { minLength: 1, maxLength: 60 }).map((parts) => parts.join(''));
    fc.assert(
      fc.property(long, fit, (original, names) => {
        const stored = storedPathFor(original, names);
        expect(bytesFromName(stored).length).toBeLessThanOrEqual(255);
        expect(stored).not.toMatch(/^\.{0,2}$|\//);
        expect(stored.isWellFormed()).toBe(true);
        expect(stored).not.toMatch(/[\p{Cc}\uFFFE\uFFFF]/u);
      }),
    );
  });

  it('two long names that differ only at their end are stored apart, with their extension', () => {
    const [one, other] = [`${'é'.repeat(140)}1.mov`, `${'é'.repeat(140)}2.mov`].map((long) => storedPathFor(long));
    expect(one).not.toBe(other);
    expect(one).toMatch(/~[0-9a-f]{16}\.mov$/);
  });

  it.each([
    ['clip.mov', 'any', 'clip.mov'],
    ['100% clay.mov', 'any', '100% clay.mov'],
    ['50%20off.mov', 'any', '50%2520off.mov'],
    ['two\nlines.mov', 'any', 'two%0Alines.mov'],
    ['100%\n', 'any', '100%25%0A'],
    ['take: 1?.mov', 'any', 'take: 1?.mov'],
    ['take: 1?.mov', 'portable', 'take%3A 1%3F.mov'],
    ['end. ', 'portable', 'end.%20'],
    ['end.', 'portable', 'end%2E'],
    ['aux.wav', 'portable', '%61ux.wav'],
    ['auxiliary.wav', 'portable', 'auxiliary.wav'],
    [nameFromBytes(Buffer.from([0x61, 0xff])), 'any', 'a%FF'],
    ['陶芸/ろくろ.mov', 'portable', '陶芸/ろくろ.mov'],
    ['ascmhl/0001.mhl', 'any', '%61scmhl/0001.mhl'],
    ['CLIPS/.DS_Store', 'any', 'CLIPS/%2EDS_Store'],
  ] as const)('%j on a file system that holds %s names is stored as %s', (original, names, stored) => {
    expect(storedPathFor(original, names)).toBe(stored);
    expect(originalPathFor(stored)).toBe(original);
  });

  it('tells its own name from a numbered one', () => {
    expect(isStoredUnderOwnName('a:b.mov', 'a:b.mov')).toBe(true);
    expect(isStoredUnderOwnName('a:b.mov', 'a%3Ab.mov')).toBe(true);
    expect(isStoredUnderOwnName('a:b.mov', 'a:b__2.mov')).toBe(false);
  });
});
