import { execFile } from 'node:child_process';
import { chmod, readdir, readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { promisify } from 'node:util';
import type { HashAlgorithm } from '@quayside/shoot';
import { describe, expect, it } from 'vitest';
import { actionsFor } from './actions-for.ts';
import { c4Of } from './c4.ts';
import {
  digestOf,
  filesBelow,
  FIXTURES,
  generationOf,
  has,
  inventedFile,
  MANIFEST_SCHEMAS,
  newRoll,
  REELS,
  throwUnlessValid,
  validate,
} from './hash-lists.test-support.ts';
import { CHAIN_NAME } from './manifest.ts';
import type { NewFile } from './new-generation.ts';
import { readHistory } from './read-history.ts';
import { writeGeneration } from './write-generation.ts';

const run = promisify(execFile);
const LATER = '2026-03-06T18:00:00.000Z';

async function scenarioFiles(card: string, algorithms: readonly HashAlgorithm[]): Promise<NewFile[]> {
  const found = await filesBelow(join(REELS, card));
  return Promise.all(
    found.map(async ({ path, bytes }) => ({
      path,
      sizeInBytes: bytes.length,
      modifiedMs: Date.parse('2020-01-15T13:00:00.987Z') + 0.25,
      hashes: await Promise.all(
        algorithms.map(async (algorithm) => ({
          algorithm,
          value: await digestOf(algorithm, bytes),
          action: 'original' as const,
        })),
      ),
    })),
  );
}

describe('a first generation', () => {
  it('is a manifest and a chain that vouches for it', async () => {
    await using roll = await newRoll();
    const written = await writeGeneration(roll.root, generationOf([await inventedFile('Clips/a.mov')]));
    expect(written).toMatchObject({ generation: 1, isNew: true, leftOut: [] });
    expect(written.manifestPath).toBe(join(roll.history, '0001_wheel-1_2026-03-05_180000Z.mhl'));
    expect(written.c4).toBe(c4Of(await readFile(written.manifestPath)));
    expect(await readFile(join(roll.history, CHAIN_NAME), 'utf8')).toContain(`<c4>${written.c4}</c4>`);
    expect((await readdir(roll.history)).toSorted()).toEqual(['0001_wheel-1_2026-03-05_180000Z.mhl', CHAIN_NAME]);
    expect((await readHistory(roll.root)).faults).toEqual([]);
  });

  // Published: both cards of scenario 05 (ascmitc/mhl @5970ecb).
  it.each([
    ['A002R2EC', '8d02114c32e28cbe', 'f557f8ca8e5a88ef'],
    ['A003R2EC', '7a82373c131cf40a', '1131a950fcc55e4b'],
  ])('of the published card %s has the published directory hashes', async (card, content, structure) => {
    await using roll = await newRoll(card);
    await writeGeneration(roll.root, generationOf(await scenarioFiles(card, ['xxh64'])));
    const [ours] = (await readHistory(roll.root)).generations;
    const [theirs] = (await readHistory(join(REELS, card))).generations;
    expect(ours?.manifest?.root).toEqual({ content: { xxh64: content }, structure: { xxh64: structure } });
    expect(ours?.manifest?.folders).toEqual(theirs?.manifest?.folders);
  });

  it.skipIf(!has('xmllint'))(
    'with every algorithm validates against both schemas (skipped without xmllint)',
    async () => {
      await using roll = await newRoll('A002R2EC');
      const files = await scenarioFiles('A002R2EC', ['xxh64', 'xxh3', 'xxh128', 'sha1', 'md5', 'c4']);
      const author = { name: 'Operator', email: 'not an address', role: 'ingest' };
      const creator = {
        hostname: 'studio.local',
        tool: 'quayside',
        toolVersion: '0.1.0',
        author,
        location: 'Studio A',
      };
      await writeGeneration(
        roll.root,
        generationOf(files, { creator: { ...creator, comment: 'bad \u{1}\u{DC80} bytes' } }),
      );
      await throwUnlessValid(roll.history);
      const [{ manifest } = { manifest: null }] = (await readHistory(roll.root)).generations;
      expect(Object.keys(manifest?.root?.content ?? {})).toEqual(['c4', 'md5', 'sha1', 'xxh128', 'xxh64']);
      expect(manifest?.creator.comment).toBe('bad \u{FFFD}\u{FFFD} bytes');
    },
  );

  it.skipIf(!has('xmllint'))(
    'the schemas can tell: scenario 03 passes one and fails the other (skipped without xmllint)',
    async () => {
      const example = join(FIXTURES, 'examples', 'scenario03_0002_xxh64_then_md5.mhl');
      await validate(example, MANIFEST_SCHEMAS[0]);
      await expect(validate(example, MANIFEST_SCHEMAS[1])).rejects.toThrow(/not expected/);
    },
  );

  it('keeps whole milliseconds of times, and leaves out those of a clock gone astray', async () => {
    await using roll = await newRoll();
    const [good, bad] = await scenarioFiles('A002R2EC', ['md5']);
    if (good === undefined || bad === undefined) throw new Error('the scenario has files');
    await writeGeneration(roll.root, generationOf([good, { ...bad, modifiedMs: 1e15, createdMs: Number.NaN }]));
    const { files } = await readHistory(roll.root);
    expect(files.get(good.path)?.modifiedMs).toBe(Date.parse('2020-01-15T13:00:00.987Z'));
    expect(files.get(bad.path)?.modifiedMs).toBeNull();
  });

  it('of an incomplete set has no directory hashes', async () => {
    await using roll = await newRoll();
    await writeGeneration(roll.root, generationOf([await inventedFile('Clips/a.mov')], { complete: false }));
    const [generation] = (await readHistory(roll.root)).generations;
    expect(generation?.manifest).toMatchObject({ root: null, folders: [] });
  });

  it('has directory hashes only of algorithms that every file has', async () => {
    await using roll = await newRoll();
    const [first, ...others] = await scenarioFiles('A002R2EC', ['md5', 'xxh64']);
    if (first === undefined) throw new Error('the scenario has files');
    const lacking = { ...first, hashes: first.hashes.filter(({ algorithm }) => algorithm === 'md5') };
    await writeGeneration(roll.root, generationOf([lacking, ...others]));
    const [generation] = (await readHistory(roll.root)).generations;
    expect(Object.keys(generation?.manifest?.root?.content ?? {})).toEqual(['md5']);
  });

  it('leaves out what is ignored, and says so', async () => {
    await using roll = await newRoll();
    const paths = ['a.mov', 'ascmhl/0001_x.mhl', 'x/.DS_Store', 'b.thm'];
    const files = await Promise.all(paths.map((path) => inventedFile(path)));
    const { leftOut } = await writeGeneration(roll.root, generationOf(files, { ignore: ['*.thm'] }));
    expect(leftOut).toEqual(paths.slice(1));
    expect([...(await readHistory(roll.root)).files.keys()]).toEqual(['a.mov']);
  });
});

describe('a later generation', () => {
  it.skipIf(!has('xmllint'))(
    'stands beside the first, which stays byte for byte (skipped without xmllint)',
    async () => {
      await using roll = await newRoll('A002R2EC');
      const files = await scenarioFiles('A002R2EC', ['xxh128', 'md5']);
      const first = await writeGeneration(roll.root, generationOf(files));
      const before = await readFile(first.manifestPath);

      const history = await readHistory(roll.root);
      const changed = files.map((file, index) => {
        const value = (algorithm: HashAlgorithm): string =>
          file.hashes.find((hash) => hash.algorithm === algorithm)?.value ?? '';
        const digests = { xxh128: index === 0 ? '0'.repeat(32) : value('xxh128'), sha1: 'a'.repeat(40) };
        const actions = actionsFor(history, file.path, digests);
        return {
          ...file,
          hashes: [
            { algorithm: 'xxh128' as const, value: digests.xxh128, action: actions.xxh128 ?? 'original', at: LATER },
            { algorithm: 'sha1' as const, value: digests.sha1, action: actions.sha1 ?? 'original', at: LATER },
          ],
        };
      });
      const second = await writeGeneration(
        roll.root,
        generationOf(changed, { startedAt: LATER, process: 'in-place', ignore: ['*.tmp'] }),
      );

      expect(second.generation).toBe(2);
      expect(await readFile(first.manifestPath)).toEqual(before);
      await throwUnlessValid(roll.history);
      const after = await readHistory(roll.root);
      expect(after.faults).toEqual([]);
      expect(after.ignore).toContain('*.tmp');
      const actions = files.map(({ path }) => after.files.get(path)?.lastAction);
      expect(actions).toEqual(['failed', 'verified', 'verified']);
      const failed = after.files.get(files[0]?.path ?? '');
      expect(failed?.hashes.get('xxh128')).toMatchObject({ action: 'original', generation: 1 });
      expect(failed?.hashes.get('sha1')).toMatchObject({ action: 'failed', generation: 2 });
    },
  );

  it('does not shrink the ignore list', async () => {
    await using roll = await newRoll();
    await writeGeneration(roll.root, generationOf([await inventedFile('a.mov')], { ignore: ['*.thm'] }));
    await writeGeneration(roll.root, generationOf([await inventedFile('b.mov')], { startedAt: LATER }));
    const { generations } = await readHistory(roll.root);
    expect(generations[1]?.manifest?.ignore).toEqual(['.DS_Store', 'ascmhl', 'ascmhl/', '*.thm']);
  });

  it('can follow the generations of another program', async () => {
    await using roll = await newRoll('A003R2EC');
    await run('cp', ['-r', join(REELS, 'A003R2EC', 'ascmhl'), roll.root]);
    await chmod(roll.history, 0o755);
    await writeGeneration(roll.root, generationOf(await scenarioFiles('A003R2EC', ['xxh64']), { startedAt: LATER }));
    const { generations, faults } = await readHistory(roll.root);
    expect(faults).toEqual([]);
    expect(generations.map(({ number }) => number)).toEqual([1, 2, 3]);
  });
});

describe('writing again', () => {
  it('the same content at another time changes nothing on the medium', async () => {
    await using roll = await newRoll();
    const files = await scenarioFiles('A002R2EC', ['xxh128', 'c4']);
    const first = await writeGeneration(roll.root, generationOf(files));
    const before = await stat(join(roll.history, CHAIN_NAME));
    const again = await writeGeneration(roll.root, generationOf(files.toReversed(), { startedAt: LATER }));
    expect(again).toEqual({ ...first, isNew: false });
    expect(await readdir(roll.history)).toHaveLength(2);
    expect((await stat(join(roll.history, CHAIN_NAME))).ino).toBe(before.ino);
  });

  it('a retry of one operation changes nothing, though its hashes count as verified by now', async () => {
    await using roll = await newRoll();
    await writeGeneration(roll.root, generationOf([await inventedFile('a.mov')]));
    const retry = await writeGeneration(roll.root, generationOf([await inventedFile('a.mov', 'verified')]));
    expect(retry).toMatchObject({ generation: 1, isNew: false });
    const verification = generationOf([await inventedFile('a.mov', 'verified')], { startedAt: LATER });
    expect(await writeGeneration(roll.root, verification)).toMatchObject({ generation: 2, isNew: true });
  });

  it.each<[string, Partial<NewFile>]>([
    ['size', { sizeInBytes: 6 }],
    ['time', { modifiedMs: 0 }],
    ['hash', { hashes: [{ algorithm: 'xxh128', value: '0'.repeat(32), action: 'original' }] }],
    ['path', { path: 'b.mov' }],
  ])('another %s is another generation', async (_, change) => {
    await using roll = await newRoll();
    const file = await inventedFile('a.mov');
    await writeGeneration(roll.root, generationOf([file]));
    const next = await writeGeneration(roll.root, generationOf([{ ...file, ...change }], { startedAt: LATER }));
    expect(next).toMatchObject({ generation: 2, isNew: true });
  });
});

it('ten thousand files in a thousand folders are written and read back', async () => {
  await using roll = await newRoll();
  const files: NewFile[] = [];
  for (let n = 0; n < 10_000; n += 1) files.push(await inventedFile(`Clips/${n % 1000}/frame ${n} é.dng`));
  const started = performance.now();
  await writeGeneration(roll.root, generationOf(files));
  const written = performance.now();
  const history = await readHistory(roll.root);
  const read = performance.now();
  process.stdout.write(
    `10,000 files: written in ${Math.round(written - started)} ms, read in ${Math.round(read - written)} ms\n`,
  );
  expect(history.faults).toEqual([]);
  expect(history.files.size).toBe(10_000);
  for (const { path, hashes } of files)
    expect(history.files.get(path)?.hashes.get('xxh128')?.value).toBe(hashes[0]?.value);
});
