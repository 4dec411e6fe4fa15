import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { FIXTURES } from './hash-lists.test-support.ts';
import type { Manifest } from './manifest.ts';
import { readManifest } from './read-manifest.ts';

const MD5 = '<md5 action="original">d41d8cd98f00b204e9800998ecf8427e</md5>';

function hashList(hashes: string, root = 'xmlns="urn:ASC:MHL:v2.0" version="2.0"'): Uint8Array {
  return Buffer.from(`<hashlist ${root}><hashes>${hashes}</hashes></hashlist>`);
}

function read(bytes: Uint8Array): Manifest & { readonly refused: readonly string[] } {
  const reading = readManifest(bytes);
  if (reading.state !== 'read') throw new Error(reading.why);
  return { ...reading.manifest, refused: reading.refused };
}

it('reads the published failure of scenario 04', async () => {
  const { files, folders, root, startedAt, process } = read(
    await readFile(join(FIXTURES, 'examples', 'scenario04_0002_failed.mhl')),
  );
  expect({ startedAt, process }).toEqual({ startedAt: '2020-01-17T14:30:00.000Z', process: 'in-place' });
  expect(root?.content).toEqual({ xxh64: '8e52e9c3d15e055c' });
  expect(folders.map(({ path }) => path)).toEqual(['Clips']);
  expect(files.find(({ path }) => path === 'Sidecar.txt')).toMatchObject({
    sizeInBytes: 60,
    modifiedMs: Date.parse('2020-01-17T14:30:00Z'),
    hashes: [{ algorithm: 'xxh64', value: '70d2cf31aaa3eac4', action: 'failed' }],
  });
});

it('reads hashes in the order of scenario 03, which one of the two schemas denies', async () => {
  const { files } = read(await readFile(join(FIXTURES, 'examples', 'scenario03_0002_xxh64_then_md5.mhl')));
  expect(files[0]?.hashes.map(({ algorithm }) => algorithm)).toEqual(['xxh64', 'md5']);
});

it('takes any namespace prefix, any order and unknown elements', () => {
  const { files, ignore } = read(
    Buffer.from(`<m:hashlist version="2.0" xmlns:m="urn:ASC:MHL:v2.0"><m:future/>
      <m:hashes><m:hash><m:xxh32>0123abcd</m:xxh32><m:md5>D41D8CD98F00B204E9800998ECF8427E</m:md5><m:path>a</m:path></m:hash></m:hashes>
      <m:processinfo><m:ignore><m:pattern>*.thm</m:pattern></m:ignore><m:process>in-place</m:process></m:processinfo>
    </m:hashlist>`),
  );
  expect(files).toMatchObject([
    { path: 'a', hashes: [{ algorithm: 'md5', value: 'd41d8cd98f00b204e9800998ecf8427e', action: null }] },
  ]);
  expect(ignore).toEqual(['*.thm']);
});

it('takes only pretty-printed line breaks off a path, and trailing slashes', () => {
  const paths = ['\r\n\t  Clips/a b.mov \r\n  ', ' lead and trail ', '&#10;a&#10;', '<![CDATA[a & b]]>', 'a//'];
  const { files } = read(hashList(paths.map((path) => `<hash><path>${path}</path>${MD5}</hash>`).join('')));
  expect(files.map(({ path }) => path)).toEqual(['Clips/a b.mov', ' lead and trail ', '\na\n', 'a & b', 'a']);
});

it('refuses single records that climb out, repeat or hold no hash, and reads the others', () => {
  const paths = ['../a', '/etc/passwd', 'a', 'a', ''];
  const records = paths.map((path) => `<hash><path>${path}</path>${MD5}</hash>`).join('');
  const { files, refused } = read(
    hashList(`${records}<hash><path>b</path><md5>nonsense</md5></hash><hash>${MD5}</hash>`),
  );
  expect(files.map(({ path, hashes }) => [path, hashes.length])).toEqual([
    ['a', 1],
    ['b', 0],
  ]);
  expect(refused).toHaveLength(6);
});

it('reads dates with offset, with fraction and without a zone, and passes over nonsense', () => {
  const dates = [
    '2020-01-15T14:30:00.250+01:00',
    '2020-01-15T13:30:00.2509999Z',
    '2020-01-15T13:30:00.25',
    'yesterday',
    '',
  ];
  const records = dates.map(
    (date, n) => `<hash><path lastmodificationdate="${date}" size="-1">${n}</path>${MD5}</hash>`,
  );
  const { files } = read(hashList(records.join('')));
  const moment = Date.parse('2020-01-15T13:30:00.250Z');
  expect(files.map(({ modifiedMs }) => modifiedMs)).toEqual([moment, moment, moment, null, null]);
  expect(files[0]?.sizeInBytes).toBeNull();
});

it.each<[string, string | Uint8Array]>([
  ['torn', '<hashlist xmlns="urn:ASC:MHL:v2.0" version="2.0"><hashes><hash><path>a</pa'],
  ['empty', ''],
  ['noise', new Uint8Array([0xff, 0xfe, 0, 1, 2, 3])],
  ['not UTF-8', Buffer.concat([Buffer.from('<a>'), Buffer.from([0xe9]), Buffer.from('</a>')])],
  ['with text after its end', '<hashlist xmlns="urn:ASC:MHL:v2.0" version="2.0"/>x'],
  ['nested without end', '<a>'.repeat(200_000)],
  ['expanding entities', '<!DOCTYPE a [<!ENTITY x "xx"><!ENTITY y "&x;&x;">]><a>&y;</a>'],
  ['fetching a file', '<!DOCTYPE a [<!ENTITY x SYSTEM "file:///etc/hostname">]><a>&x;</a>'],
])('a manifest that is %s is malformed', (_, bytes) => {
  expect(readManifest(Buffer.from(bytes))).toMatchObject({ state: 'malformed' });
});

it.each(['xmlns="urn:ASC:MHL:v2.0" version="3.0"', 'xmlns="urn:ASC:MHL:v2.0"', 'version="2.0"', 'version="1.1"'])(
  'a hash list with %s is unsupported',
  (root) => {
    expect(readManifest(hashList('', root))).toMatchObject({ state: 'unsupported' });
  },
);

it('names out of the language itself are names like any other, and change nothing', () => {
  const bytes = hashList(
    `<hash><path __proto__="1" constructor="2" size="3">__proto__</path>${MD5}</hash><__proto__><polluted/></__proto__>`,
  );
  expect(read(bytes).files).toMatchObject([{ path: '__proto__', sizeInBytes: 3 }]);
  expect(Object.hasOwn(Object.prototype, 'polluted')).toBe(false);
});
