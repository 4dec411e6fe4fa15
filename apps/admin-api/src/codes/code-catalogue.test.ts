import { existsSync, globSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { CODES } from './code-catalogue.ts';

const ROOT = join(import.meta.dirname, '../../../..');

/** Written like codes, and none: the names of variables, of fields of other formats, and the codes of other programs. */
const NO_CODES = new Set([
  'QUAYSIDE_CONFIG',
  'QUAYSIDE_PAGE',
  'QUAYSIDE_REDIS',
  'STATE_DIRECTORY',
  'XDG_CONFIG_HOME',
  'XDG_STATE_HOME',
  'FST_ERR_HANDLER_TIMEOUT',
  'ID_FS_LABEL_ENC',
  'ID_FS_TYPE',
  'ID_FS_UUID_ENC',
  // iXML and OpenTimelineIO.
  'DEFAULT_MEDIA',
  'FILE_UID',
  'INTERLEAVE_INDEX',
  'TIMECODE_FLAG',
  'TIMECODE_RATE',
  'TIMESTAMP_SAMPLE_RATE',
  'TRACK_LIST',
  // Of Node's permission model.
  'ERR_ACCESS_DENIED',
  'ERR_DLOPEN_DISABLED',
]);

/** Errors of the operating system that we raise ourselves, as it would. */
const isOfSystem = (code: string): boolean => /^E[A-Z0-9]+$/.test(code);

/** A guest's codes are its own: they carry its name, and it documents them. */
const isOfGuest = (file: string): boolean => {
  const turbo = join(ROOT, file.split('/src/')[0] ?? '', 'turbo.json');
  return existsSync(turbo) && readFileSync(turbo, 'utf8').includes('"guest"');
};

/** Every code in the sources with the files it stands in: texts in capitals with underscores, and whatever is called `code`. */
function codesInSources(): ReadonlyMap<string, readonly string[]> {
  const files = globSync('{apps,packages,plugins}/*/src/**/*.ts', { cwd: ROOT }).filter(
    (file) => !/\.test\.ts$|\.test-support\.ts$|\/src\/codes\//.test(file) && !isOfGuest(file),
  );
  const found = files.flatMap((file) => {
    const text = readFileSync(join(ROOT, file), 'utf8');
    const texts = [...text.matchAll(/'([A-Z][A-Z0-9]+(?:_[A-Z0-9]+)+)'|\bcode: '([A-Z][A-Z0-9_]+)'/g)];
    // A table of codes by name, as sync grouping has one.
    const keys = [...text.matchAll(/^ {2}([A-Z][A-Z0-9]+(?:_[A-Z0-9]+)+): \{$/gm)];
    return [...texts, ...keys].map(([, one, other]) => ({ code: one ?? other ?? '', file }));
  });
  const known = found.filter(({ code }) => !NO_CODES.has(code) && !isOfSystem(code));
  const byCode = Map.groupBy(known, ({ code }) => code);
  return new Map([...byCode].map(([code, places]) => [code, places.map(({ file }) => file)]));
}

it('every code in the sources is in the catalogue, and every code of the catalogue is in the sources', () => {
  const inSources = codesInSources();
  // It looked at them at all.
  expect(inSources.get('CHECKSUM_MISMATCH')).toContain('packages/media-files/src/read-back/read-back-copy.ts');
  const missing = [...inSources].filter(([code]) => !(code in CODES)).map(([code, files]) => `${code} in ${files[0]}`);
  expect(missing, 'not in the catalogue').toEqual([]);
  const unused = Object.keys(CODES).filter((code) => !inSources.has(code) && !isShort(code));
  expect(unused, 'nowhere in the sources').toEqual([]);
});

/** Without an underscore a code in a list of values cannot be told from other words. */
const isShort = (code: string): boolean => code === 'DAMAGED';

it('every entry is two sentences: what it means, and what to do', () => {
  for (const [code, { meaning, remedy }] of Object.entries(CODES)) {
    expect(meaning, code).toMatch(/^[A-Z].*\.$/);
    expect(remedy, code).toMatch(/^[A-Z].*\.$/);
  }
});
