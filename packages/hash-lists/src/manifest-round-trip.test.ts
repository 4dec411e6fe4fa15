import { execFile } from 'node:child_process';
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { HashAlgorithm } from '@quayside/shoot';
import * as fc from 'fast-check';
import { expect, it } from 'vitest';
import { buildManifest } from './build-manifest.ts';
import { MANIFEST_SCHEMAS, has, newRoll, validate } from './hash-lists.test-support.ts';
import { HASH_ACTIONS, type Manifest } from './manifest.ts';
import { readManifest } from './read-manifest.ts';
import { isRecordablePath } from './recordable-path.ts';

const name = fc.oneof(
  fc.string({ unit: 'grapheme', minLength: 1 }),
  fc.string({ unit: 'binary', minLength: 1 }),
  fc.string({
    unit: fc.constantFrom('&', '<', '>', '"', "'", ' ', '\t', '\n', '\r', ']]>', 'é', 'e\u{301}', '日', '&#10;'),
  }),
  fc.constantFrom(' lead', 'trail ', ' ', '\n', '\n  a\n', '__proto__', 'constructor', '&amp;', '<!--', '..a', 'true'),
);
const path = fc
  .array(name, { minLength: 1, maxLength: 3 })
  .map((parts) => parts.join('/'))
  .filter(isRecordablePath);
const ms = fc.integer({ min: Date.parse('0001-01-01T00:00:00Z'), max: Date.parse('9999-12-31T23:59:59.999Z') });
const instant = ms.map((time) => new Date(time).toISOString());
const hex = (length: number): fc.Arbitrary<string> =>
  fc.string({ unit: fc.constantFrom(...'0123456789abcdef'.split('')), minLength: length, maxLength: length });
const digest = {
  c4: fc.constant(`c4${'2'.repeat(88)}`),
  md5: hex(32),
  sha1: hex(40),
  xxh128: hex(32),
  xxh3: hex(16),
  xxh64: hex(16),
} satisfies Record<HashAlgorithm, fc.Arbitrary<string>>;
const hash = fc.constantFrom(...HashAlgorithm.options).chain((algorithm) =>
  fc.record({
    algorithm: fc.constant(algorithm),
    value: digest[algorithm],
    action: fc.constantFrom(...HASH_ACTIONS),
    at: fc.option(instant),
  }),
);
const file = fc.record({
  path,
  sizeInBytes: fc.option(fc.maxSafeNat()).map((size) => (size === null ? null : size % 10 ** 15)),
  modifiedMs: fc.option(ms),
  createdMs: fc.option(ms),
  hashes: fc
    .uniqueArray(hash, { selector: ({ algorithm }) => algorithm, minLength: 1 })
    .map((hashes) => hashes.toSorted((one, other) => (one.algorithm < other.algorithm ? -1 : 1))),
  previousPath: fc.option(path),
});
const manifest: fc.Arbitrary<Manifest> = fc.record({
  startedAt: instant,
  process: fc.constantFrom('transfer', 'in-place'),
  creator: fc.constant({
    hostname: 'studio.local',
    tool: 'quayside',
    toolVersion: 'true',
    author: { name: 'The operator', role: 'ingest & "desk"', email: 'operator@studio.example', phone: '\n1\t2' },
    location: 'Studio <A>',
    comment: ' from "wheel"\r\nto "primary" ',
  }),
  ignore: fc.constant(['.DS_Store', 'ascmhl', 'ascmhl/', 'trail\\ ', '<&>']),
  root: fc.constant(null),
  files: fc.uniqueArray(file, { selector: (record) => record.path, minLength: 1, maxLength: 8 }),
  folders: fc.constant([]),
  references: fc.constant([]),
});

it('what is written is what is read, for names in any script and with any white space', () => {
  fc.assert(
    fc.property(manifest, (written) => {
      const reading = readManifest(buildManifest(written));
      expect(reading).toEqual({ state: 'read', manifest: written, refused: [] });
    }),
    { numRuns: 300 },
  );
});

it.skipIf(!has('xmllint'))(
  'any manifest validates against both schemas (skipped without xmllint)',
  { timeout: 120_000 },
  async () => {
    await using roll = await newRoll();
    await fc.assert(
      fc.asyncProperty(manifest, async (written) => {
        const at = join(roll.root, 'any.mhl');
        await writeFile(at, buildManifest(written));
        for (const schema of MANIFEST_SCHEMAS) await validate(at, schema);
      }),
      { numRuns: 25 },
    );
  },
);

const PATHS_BY_EXPAT = `
import json, sys, xml.etree.ElementTree as tree
spaces = {'m': 'urn:ASC:MHL:v2.0'}
print(json.dumps([path.text for path in tree.parse(sys.argv[1]).getroot().findall('m:hashes/m:hash/m:path', spaces)]))
`;

// The independent reader is expat, through Python's own xml module.
it.skipIf(!has('python3'))(
  'another XML parser reads the same names (skipped without python3)',
  { timeout: 120_000 },
  async () => {
    await using roll = await newRoll();
    await fc.assert(
      fc.asyncProperty(manifest, async (written) => {
        const at = join(roll.root, 'any.mhl');
        await writeFile(at, buildManifest(written));
        const { stdout } = await promisify(execFile)('python3', ['-c', PATHS_BY_EXPAT, at]);
        expect(JSON.parse(stdout)).toEqual(written.files.map((record) => record.path));
      }),
      { numRuns: 15 },
    );
  },
);

it.each(['', '/a', 'a/', 'a//b', './a', 'a/..', '..', 'a\0', 'a\u{1}', 'a\u{7F}b\u{1B}', '\u{DC80}', 'a\u{FFFE}'])(
  'the path %j is not recordable',
  (unusable) => {
    expect(isRecordablePath(unusable)).toBe(false);
  },
);
