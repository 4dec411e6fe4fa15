import { execFileSync } from 'node:child_process';
import { cp, mkdir, readFile, rename, rm, symlink, truncate, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { c4Of } from './c4.ts';
import { buildChain } from './chain.ts';
import {
  digestOf,
  FIXTURES,
  generationOf,
  inventedFile,
  newRoll,
  REELS,
  type Roll,
} from './hash-lists.test-support.ts';
import { CHAIN_NAME, MAX_XML_BYTES } from './manifest.ts';
import { readHistory } from './read-history.ts';
import { writeGeneration } from './write-generation.ts';

describe('the published scenario', () => {
  it.each([
    ['', 1, 1],
    ['A002R2EC', 2, 3],
    ['A003R2EC', 2, 3],
  ])('the history of "%s" reads without a fault', async (folder, generations, files) => {
    const history = await readHistory(join(REELS, folder));
    expect(history.faults).toEqual([]);
    expect(history.generations).toHaveLength(generations);
    expect(history.files.size).toBe(files);
    expect(history.ignore).toEqual(['.DS_Store', 'ascmhl', 'ascmhl/']);
  });

  it('its recorded hashes are those of its files', async () => {
    const { files } = await readHistory(join(REELS, 'A002R2EC'));
    for (const [path, { hashes, sizeInBytes }] of files) {
      const bytes = await readFile(join(REELS, 'A002R2EC', path));
      expect(hashes.get('xxh64')).toEqual({ value: await digestOf('xxh64', bytes), action: 'original', generation: 1 });
      expect(sizeInBytes).toBe(bytes.length);
    }
  });

  it('the parent history refers to its nested ones by their C4 IDs', async () => {
    const { generations } = await readHistory(REELS);
    const references = generations[0]?.manifest?.references ?? [];
    expect(references).toHaveLength(2);
    for (const { path, c4 } of references) expect(c4Of(await readFile(join(REELS, path)))).toBe(c4);
  });

  it('a file that failed keeps what it was compared with', async () => {
    await using roll = await cardWith('scenario04_0002_failed.mhl');
    const { files, faults } = await readHistory(roll.root);
    expect(faults).toEqual([]);
    expect(files.get('Sidecar.txt')).toMatchObject({
      sizeInBytes: 58,
      lastAction: 'failed',
      failed: true,
      lastGeneration: 2,
    });
    expect(files.get('Sidecar.txt')?.hashes.get('xxh64')).toMatchObject({
      value: '3ab5a4166b9bde44',
      action: 'original',
    });
    expect(files.get('Clips/A002C006_141024_R2EC.mov')).toMatchObject({ lastAction: 'verified', failed: false });
  });

  it('an algorithm that was added later stands beside the first', async () => {
    await using roll = await cardWith('scenario03_0002_xxh64_then_md5.mhl');
    const clip = (await readHistory(roll.root)).files.get('Clips/A002C006_141024_R2EC.mov');
    expect(clip?.hashes.get('xxh64')).toMatchObject({ action: 'original', generation: 1 });
    expect(clip?.hashes.get('md5')).toMatchObject({
      value: 'f5ac8127b3b6b85cdc13f237c6005d80',
      action: 'verified',
      generation: 2,
    });
  });
});

function chainOf(roll: { readonly history: string }): string {
  return join(roll.history, CHAIN_NAME);
}

/** The published first generation of a card, followed by a published second one. */
async function cardWith(example: string): Promise<Roll> {
  const roll = await newRoll('A002R2EC');
  await mkdir(roll.history);
  const first = '0001_A002R2EC_2020-01-16_091500Z.mhl';
  const second = '0002_A002R2EC_2020-01-17_143000.mhl';
  await cp(join(REELS, 'A002R2EC', 'ascmhl', first), join(roll.history, first));
  await cp(join(FIXTURES, 'examples', example), join(roll.history, second));
  const entries = [first, second].map(async (name, index) => ({
    number: index + 1,
    name,
    c4: c4Of(await readFile(join(roll.history, name))),
  }));
  await writeFile(join(roll.history, CHAIN_NAME), buildChain(await Promise.all(entries)));
  return roll;
}

describe('renames', () => {
  it('a renamed file keeps its history, and two files may swap names', async () => {
    await using roll = await newRoll();
    const [one, other] = [await inventedFile('one.mov'), await inventedFile('other.mov')];
    await writeGeneration(roll.root, generationOf([one, other]));
    const swapped = [
      { ...one, path: 'other.mov', previousPath: 'one.mov' },
      { ...other, path: 'one.mov', previousPath: 'other.mov' },
    ].map((file) => ({ ...file, hashes: file.hashes.map((hash) => ({ ...hash, action: 'verified' as const })) }));
    await writeGeneration(roll.root, generationOf(swapped, { startedAt: '2026-03-06T18:00:00.000Z' }));
    const { files } = await readHistory(roll.root);
    expect([...files.keys()].toSorted()).toEqual(['one.mov', 'other.mov']);
    expect(files.get('other.mov')?.hashes.get('xxh128')).toEqual({
      value: one.hashes[0]?.value,
      action: 'original',
      generation: 1,
    });
  });

  it('a renamed folder takes its files along', async () => {
    await using roll = await newRoll();
    await writeGeneration(roll.root, generationOf([await inventedFile('a/b/c.mov'), await inventedFile('ab.mov')]));
    const name = '0002_wheel-1_2026-03-06_180000Z.mhl';
    const xml = `<hashlist xmlns="urn:ASC:MHL:v2.0" version="2.0"><hashes><directoryhash><path>z</path><content/><structure/><previousPath>a/</previousPath></directoryhash></hashes></hashlist>`;
    await writeFile(join(roll.history, name), xml);
    const { files } = await readHistory(roll.root);
    expect([...files.keys()].toSorted()).toEqual(['ab.mov', 'z/b/c.mov']);
  });
});

describe('damage comes back as a fault', () => {
  const DAY = 24 * 60 * 60 * 1000;

  async function rollOf(generations: number): Promise<Roll & { readonly manifests: readonly string[] }> {
    const roll = await newRoll();
    const manifests: string[] = [];
    for (let n = 1; n <= generations; n += 1) {
      const startedAt = new Date(Date.parse('2026-03-05T18:00:00.000Z') + n * DAY).toISOString();
      const files = [await inventedFile(`${n}.mov`)];
      manifests.push(
        (await writeGeneration(roll.root, generationOf(files, { startedAt, complete: false }))).manifestPath,
      );
    }
    return { ...roll, manifests };
  }

  const garbage = Buffer.from('\0\0\0\0');

  it.each<[string, string[], number, (roll: Awaited<ReturnType<typeof rollOf>>) => Promise<void>]>([
    ['nothing', [], 2, async () => {}],
    ['no chain', ['CHAIN_MISSING'], 2, async (roll) => rm(chainOf(roll))],
    ['a chain of zeros', ['CHAIN_MALFORMED'], 2, async (roll) => writeFile(chainOf(roll), garbage)],
    ['an empty chain file', ['CHAIN_MALFORMED'], 2, async (roll) => truncate(chainOf(roll), 0)],
    ['a torn chain', ['CHAIN_MALFORMED'], 2, async (roll) => truncate(chainOf(roll), 200)],
    [
      'a chain that points out of its folder',
      ['CHAIN_MALFORMED'],
      2,
      async (roll) => writeFile(chainOf(roll), buildChain([{ number: 1, name: '../../x.mhl', c4: 'c4' }])),
    ],
    ['a manifest missing', ['MANIFEST_MISSING'], 1, async (roll) => rm(roll.manifests[0] ?? '')],
    ['a manifest torn', ['MANIFEST_ALTERED'], 1, async (roll) => truncate(roll.manifests[1] ?? '', 300)],
    [
      'one digit of a manifest changed',
      ['MANIFEST_ALTERED'],
      1,
      async ({ manifests: [first = ''] }) =>
        writeFile(first, (await readFile(first, 'utf8')).replace('size="5"', 'size="6"')),
    ],
    [
      'a link in place of a manifest',
      ['MANIFEST_MALFORMED'],
      1,
      async ({ manifests: [first = ''] }) => {
        await rename(first, `${first}.real`);
        await symlink(`${first}.real`, first);
      },
    ],
    [
      'a pipe in place of a manifest',
      ['MANIFEST_MALFORMED'],
      1,
      async ({ manifests: [first = ''] }) => {
        await rm(first);
        execFileSync('mkfifo', [first]);
      },
    ],
    [
      'a manifest too large to read',
      ['MANIFEST_MALFORMED'],
      1,
      async ({ manifests: [first = ''] }) => truncate(first, MAX_XML_BYTES + 1),
    ],
    [
      'a torn manifest outside the chain',
      ['MANIFEST_UNCHAINED'],
      2,
      async (roll) => writeFile(join(roll.history, '0003_wheel-1_2026-03-09_180000Z.mhl'), '<hashlist'),
    ],
    [
      'a whole manifest outside the chain with a wrong number',
      ['MANIFEST_UNCHAINED'],
      2,
      async ({ history, manifests: [first = ''] }) => cp(first, join(history, '0007_wheel-1_2026-03-09_180000Z.mhl')),
    ],
    [
      'a gap in the chain',
      ['CHAIN_GAP'],
      1,
      async (roll) => {
        const bytes = await readFile(roll.manifests[1] ?? '');
        const name = '0002_wheel-1_2026-03-07_180000Z.mhl';
        await rm(roll.manifests[0] ?? '');
        await writeFile(chainOf(roll), buildChain([{ number: 2, name, c4: c4Of(bytes) }]));
      },
    ],
  ])('%s gives %j', async (...[, codes, usable, damage]) => {
    await using roll = await rollOf(2);
    await damage(roll);
    const { faults, generations, files } = await readHistory(roll.root);
    expect(faults.map(({ code }) => code)).toEqual(codes);
    expect(generations.filter(({ manifest }) => manifest !== null)).toHaveLength(usable);
    expect(files.size).toBe(usable);
    for (const { sentence } of faults) expect(sentence).toContain(roll.history);
  });

  it('a manifest of another version is named as such', async () => {
    await using roll = await newRoll();
    await mkdir(roll.history);
    const bytes = Buffer.from('<hashlist version="1.1"/>');
    const name = '0001_wheel-1_2026-03-09_180000Z.mhl';
    await writeFile(join(roll.history, name), bytes);
    await writeFile(join(roll.history, CHAIN_NAME), buildChain([{ number: 1, name, c4: c4Of(bytes) }]));
    expect((await readHistory(roll.root)).faults).toMatchObject([{ code: 'MANIFEST_UNSUPPORTED', generation: 1 }]);
  });

  it('a folder without a history has an empty one, and no fault', async () => {
    await using roll = await newRoll();
    expect(await readHistory(roll.root)).toEqual({
      generations: [],
      files: new Map(),
      ignore: ['.DS_Store', 'ascmhl', 'ascmhl/'],
      faults: [],
    });
  });

  it('a folder that cannot be listed is an I/O error, not a fault', async () => {
    await using roll = await newRoll();
    await writeFile(roll.history, 'not a folder');
    await expect(readHistory(roll.root)).rejects.toMatchObject({ code: 'MANIFEST_READ', retry: 'later' });
  });
});
