import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { parseConfiguration } from './parse-configuration.ts';

const TWO = `destinations:
  - { name: primary, path: /srv/a }
  - { name: backup, path: /srv/b }
`;

/** The table; its first lines say how it is written. */
const GOLDEN = readFileSync(join(import.meta.dirname, 'fixtures/golden-messages.txt'), 'utf8')
  .split(/^## /m)
  .slice(1)
  .map((entry) => {
    const [title = '', ...lines] = entry.trimEnd().split('\n');
    return {
      title,
      marked: lines
        .filter((line) => !line.startsWith('=> '))
        .join('\n')
        .replace('@two\n', TWO)
        .replaceAll('→', '\t'),
      told: lines.filter((line) => line.startsWith('=> ')).map((line) => line.slice(3)),
    };
  });

test('the table is there', () => {
  expect(GOLDEN.length).toBeGreaterThan(50);
});

test.each(GOLDEN)('$title is told with its place and its remedy', ({ marked, told }) => {
  const places = marked.includes('▸') ? placesOf(marked) : ['1:1'];
  expect(linesFor(marked.replaceAll('▸', ''))).toStrictEqual(
    told.map((line, index) => `quayside.yaml:${places[index]} ${line}`),
  );
});

/** Line and column of each mark, counted without the YAML library. */
function placesOf(marked: string): string[] {
  const parts = marked.split('▸');
  return parts.slice(1).map((_, index) => {
    const linesBefore = parts
      .slice(0, index + 1)
      .join('')
      .split('\n');
    return `${linesBefore.length}:${(linesBefore.at(-1) ?? '').length + 1}`;
  });
}

/** The lines of the sentence, as a list of their own: one fault is a sentence, several are a list below a heading. */
function linesFor(written: string): string[] {
  try {
    parseConfiguration(written, { file: 'quayside.yaml', env: { HOME: '/home/pat' }, platform: 'linux' });
    return [];
  } catch (error) {
    expect(error).toMatchObject({ name: 'QuaysideError', code: 'CONFIG_INVALID', retry: 'never' });
    const lines = (error as Error).message.split('\n');
    if (lines.length > 1) expect(lines.shift()).toBe(`quayside.yaml has ${lines.length} faults:`);
    return lines.map((line) => line.trim().replace(/\.$/, ''));
  }
}
