import { expect, it } from 'vitest';
import { DEFAULT_IGNORE, growIgnore, ignoreMatcher } from './ignore-patterns.ts';

// The first four patterns and what they match: ASC MHL Specification v1.0, appendix C.
it.each([
  ['doc/frotz/', ['doc/frotz/', 'doc/frotz/a.mov'], ['a/doc/frotz/', 'doc/frotz']],
  ['frotz/', ['frotz/', 'a/frotz/', 'a/frotz/b.mov'], ['frotz', 'a/frotz']],
  ['a/**/b', ['a/b', 'a/x/b', 'a/x/y/b'], ['b', 'c/a/b']],
  ['abc/**', ['abc/a.mov', 'abc/x/y.mov'], ['abc/', 'x/abc/a.mov']],
  ['*.thm', ['a.thm', 'x/b.thm'], ['a.THM', 'a.thm.mov']],
])('the pattern %s matches %j and not %j', (pattern, matching, others) => {
  const isIgnored = ignoreMatcher([pattern]);
  expect(matching.filter((path) => !isIgnored(path))).toEqual([]);
  expect(others.filter(isIgnored)).toEqual([]);
});

it('the standard patterns leave out history folders and .DS_Store at any depth, and nothing else', () => {
  const isIgnored = ignoreMatcher(DEFAULT_IGNORE);
  expect(['.DS_Store', 'a/.DS_Store', 'ascmhl/', 'a/ascmhl/0001.mhl'].every(isIgnored)).toBe(true);
  expect(['a.mov', 'ASCMHL/a.mov', 'x.DS_Store', '..a', '...', 'ascmhl.mov'].some(isIgnored)).toBe(false);
});

it('a list grows without losing or repeating a pattern', () => {
  expect(growIgnore(['*.thm', 'ascmhl'], ['*.thm', '*.tmp'])).toEqual([
    '.DS_Store',
    'ascmhl',
    'ascmhl/',
    '*.thm',
    '*.tmp',
  ]);
});
