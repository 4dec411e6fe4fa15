import { expect, it } from 'vitest';
import { bytesFromName } from './name-bytes.ts';
import { numberedName } from './numbered-name.ts';

it.each([
  ['clip.mov', 1, 'clip.mov'],
  ['clip.mov', 2, 'clip__2.mov'],
  ['clip', 3, 'clip__3'],
  ['.hidden', 2, '.hidden__2'],
  ['clip.tar.gz', 2, 'clip.tar__2.gz'],
])('%s kept as number %i is %s', (name, number, numbered) => {
  expect(numberedName(name, number)).toBe(numbered);
});

it('a name of 255 bytes gives up characters of its stem, not of its extension, and never half a character', () => {
  const numbered = numberedName(`${'é'.repeat(125)}x.mov`, 2);
  expect(bytesFromName(numbered).length).toBeLessThanOrEqual(255);
  expect(numbered).toMatch(/^é+__2\.mov$/);
});
