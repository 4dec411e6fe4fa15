import { type FileHandle, open, readFile, stat, utimes, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Destination } from '@quayside/step-sdk/built-in';
import { describe, expect, it } from 'vitest';
import { stagedAt } from '../copy/copy-outcomes.test-support.ts';
import {
  calmControls,
  copyHere,
  destinationAt,
  digestByTool,
  hasTool,
  ROLL,
  temporaryFolder,
  writeTree,
} from '../media-files.test-support.ts';
import { BLOCK_BYTES } from './block.ts';
import {
  copyInterrupted,
  expectSameBytes,
  inodeOf,
  LARGE_BYTES,
  partAt,
  shortenJournal,
  storedAt,
} from './interrupted-copy.test-support.ts';
import { interruptedBytes } from './interrupted-bytes.ts';
import { restingParts } from './part-folders.ts';

const noXxhsum = !hasTool('xxhsum');

interface Scene extends AsyncDisposable {
  readonly source: string;
  readonly destinations: readonly [Destination, Destination];
}

async function interruptedScene(): Promise<Scene> {
  const folder = await temporaryFolder();
  const source = join(folder.path, 'drive');
  await writeTree(source, { 'CLIPS/long.mov': LARGE_BYTES });
  const destinations = [
    await destinationAt(join(folder.path, 'one'), 'one'),
    await destinationAt(join(folder.path, 'two'), 'two'),
  ] as const;
  await copyInterrupted({ source, destinations }, 4 * BLOCK_BYTES);
  return { source, destinations, [Symbol.asyncDispose]: () => folder[Symbol.asyncDispose]() };
}

/** Copies what is left, and holds every copy against the source by other means than ours. */
async function expectWholeCopies({ source, destinations }: Scene): Promise<void> {
  const outcomes = await copyHere({ source, destinations });
  for (const destination of destinations) {
    await expectSameBytes(destination, source);
    expect(await stagedAt(destination.root)).toEqual([]);
  }
  expect(outcomes.map(({ state }) => state)).toEqual(destinations.map(() => 'written'));
}

async function overwrite(path: string, position: number, bytes: Uint8Array): Promise<void> {
  const file: FileHandle = await open(path, 'r+');
  await file.write(bytes, 0, bytes.length, position);
  await file.close();
}

describe('a large copy that was interrupted', () => {
  it('leaves a part and its journal, and no final name', async () => {
    await using scene = await interruptedScene();
    for (const { root } of scene.destinations) {
      const part = await partAt(root);
      // Of four blocks that were read, at most two may be at stake.
      expect(part.blocks).toBeGreaterThanOrEqual(2);
      await expect(stat(join(root, ROLL.folder, 'CLIPS/long.mov'))).rejects.toThrow('ENOENT');
      expect(await interruptedBytes(root, ROLL.id)).toBe(part.sizeInBytes);
      expect(await interruptedBytes(root, 'another-roll')).toBe(0);
    }
  });

  it.skipIf(noXxhsum)(
    `is gone on with in the same file, and its digest is that of the whole source (held against xxhsum)${noXxhsum ? ' (skipped: there is no xxhsum)' : ''}`,
    async () => {
      await using scene = await interruptedScene();
      const parts = await Promise.all(scene.destinations.map(({ root }) => partAt(root)));
      const controls = calmControls();
      const outcomes = await copyHere({ ...scene, controls });
      expect(controls.moved).toBe(LARGE_BYTES);
      const digest = digestByTool('xxhsum', '-H2', join(scene.source, 'CLIPS/long.mov'));
      for (const [index, destination] of scene.destinations.entries()) {
        expect(outcomes[index]).toMatchObject({ state: 'written', already: false, digests: { xxh128: digest } });
        expect(await inodeOf(storedAt(destination))).toBe(parts[index]?.inode);
        await expectSameBytes(destination, scene.source);
        expect(await stagedAt(destination.root)).toEqual([]);
      }
    },
  );

  it('is gone on with again and again, also when it is called off while it is proven', async () => {
    await using scene = await interruptedScene();
    const { inode, blocks } = await partAt(scene.destinations[0].root);
    await copyInterrupted(scene, BLOCK_BYTES);
    expect((await partAt(scene.destinations[0].root)).blocks).toBe(blocks);
    await copyInterrupted(scene, 5 * BLOCK_BYTES);
    await copyInterrupted(scene, 5 * BLOCK_BYTES);
    await expectWholeCopies(scene);
    expect(await inodeOf(storedAt(scene.destinations[0]))).toBe(inode);
  });

  it('is gone on with at destinations that stand at different lengths, also where one has nothing', async () => {
    await using scene = await interruptedScene();
    const [one, two] = scene.destinations;
    await shortenJournal(await partAt(two.root), 1);
    const { inode } = await partAt(one.root);
    const three = await destinationAt(join(one.root, '..', 'three'), 'three');
    await expectWholeCopies({ ...scene, destinations: [one, two, three] as never });
    expect(await inodeOf(storedAt(one))).toBe(inode);
  });

  it('keeps only what its medium proves: from a block that was changed there on it is copied again', async () => {
    await using scene = await interruptedScene();
    const part = await partAt(scene.destinations[0].root);
    await overwrite(part.path, BLOCK_BYTES + 5000, Buffer.from('not what the drive gave'));
    await expectWholeCopies(scene);
    expect(await inodeOf(storedAt(scene.destinations[0]))).toBe(part.inode);
  });

  it('is right also when every part was changed in its first block', async () => {
    await using scene = await interruptedScene();
    for (const { root } of scene.destinations) await overwrite((await partAt(root)).path, 12, Buffer.from('changed'));
    await expectWholeCopies(scene);
  });

  it('is begun anew where the journal is torn in its first line or gone, and gone on with where its last line is torn', async () => {
    await using scene = await interruptedScene();
    const [one, two] = await Promise.all(scene.destinations.map(({ root }) => partAt(root)));
    if (one === undefined || two === undefined) throw new Error('no parts');
    await writeFile(one.journal, (await readFile(one.journal, 'utf8')).slice(0, 40));
    await writeFile(two.journal, (await readFile(two.journal, 'utf8')).trimEnd().slice(0, -5));
    await expectWholeCopies(scene);
    expect(await inodeOf(storedAt(scene.destinations[1]))).toBe(two.inode);
  });

  it('is begun anew when the source was written since, also if its size and its time are as before', async () => {
    await using scene = await interruptedScene();
    const path = join(scene.source, 'CLIPS/long.mov');
    const { atimeMs, mtimeMs } = await stat(path);
    await overwrite(path, 3 * BLOCK_BYTES, Buffer.from('another take'));
    await utimes(path, atimeMs / 1000, mtimeMs / 1000);
    // Times set through a double may lose the fraction; what counts is that the listing sees no change.
    const listed = (await stat(path)).mtimeMs;
    for (const { root } of scene.destinations) await editHeader(root, { modifiedMs: listed });
    await expectWholeCopies(scene);
  });

  it('is begun anew when its first or last block on the source is another, on a file system that tells no change', async () => {
    await using scene = await interruptedScene();
    const path = join(scene.source, 'CLIPS/long.mov');
    await overwrite(path, 100, Buffer.from('another take'));
    for (const { root } of scene.destinations) await pretendUnchanged(root, path);
    await expectWholeCopies(scene);
  });

  it('a source that gives other bytes than at first is told, and nothing of it kept', async () => {
    await using scene = await interruptedScene();
    const path = join(scene.source, 'CLIPS/long.mov');
    await shortenJournal(await partAt(scene.destinations[1].root), 1);
    await overwrite(path, BLOCK_BYTES + 7, Buffer.from('another take'));
    for (const { root } of scene.destinations) await pretendUnchanged(root, path);
    const outcomes = await copyHere(scene);
    const failure = { code: 'SOURCE_READS_DIFFER', sentence: expect.stringContaining(`behind byte ${BLOCK_BYTES}`) };
    expect(outcomes).toMatchObject([
      { state: 'failed', failure },
      { state: 'failed', failure },
    ]);
    for (const { root } of scene.destinations) expect(await restingParts(join(root, '.quayside/staging'))).toEqual([]);
    await expectWholeCopies(scene);
  });
});

async function editHeader(root: string, change: object): Promise<void> {
  const { journal } = await partAt(root);
  const [first = '', ...rest] = (await readFile(journal, 'utf8')).split('\n');
  await writeFile(journal, [JSON.stringify({ ...JSON.parse(first), ...change }), ...rest].join('\n'));
}

/** As if the file system kept neither time of the source. */
async function pretendUnchanged(root: string, path: string): Promise<void> {
  const { mtimeMs, ctimeMs } = await stat(path);
  await editHeader(root, { modifiedMs: mtimeMs, changedMs: ctimeMs });
}
