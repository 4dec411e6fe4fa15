import { readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import {
  copyHere,
  destinationAt,
  mountImage,
  readBackHere,
  ROLL,
  temporaryFolder,
  whyNoMounts,
  writeTree,
} from '../media-files.test-support.ts';
import { diskPath } from '../names/disk-path.ts';

import { storedAt } from './copy-outcomes.test-support.ts';

const skipped = whyNoMounts === null ? '' : ` (skipped: ${whyNoMounts})`;

describe('names', () => {
  const NAMES = [
    '陶芸 ろくろ.mov',
    'قالب.mov',
    'गमला.mov',
    '🏺.mov',
    'two\nlines.mov',
    '100%0A.mov',
    'a:b?.mov',
    'end.',
    'aux',
    'x'.repeat(255),
  ];

  it.skipIf(whyNoMounts).each(['ext4', 'exfat'] as const)(
    `in every script and of every kind are stored on %s and read back${skipped}`,
    async (fileSystem) => {
      await using image = await mountImage(fileSystem, 32);
      await using folder = await temporaryFolder();
      const source = join(folder.path, 'drive');
      await writeTree(source, Object.fromEntries(NAMES.map((name) => [name, `content of ${name}`])));
      await writeFile(Buffer.concat([Buffer.from(`${source}/`), Buffer.from([0x62, 0xff])]), 'bytes');
      const destination = await destinationAt(image.path);
      const outcomes = await copyHere({ source, destinations: [destination] });
      expect(outcomes).toHaveLength(NAMES.length + 1);
      for (const outcome of outcomes) {
        if (outcome.state === 'failed') throw new Error(outcome.failure.sentence);
        const stored = await readFile(join(image.path, ROLL.folder, outcome.storedPath), 'utf8');
        expect(stored).toBe(await readFile(diskPath(source, outcome.path), 'utf8'));
        expect(outcome.storedPath).not.toMatch(/\p{Cc}/u);
      }
      const read = await readBackHere(
        destination,
        outcomes.map(({ path }) => path),
      );
      expect(read.map(({ state }) => state)).toEqual(outcomes.map(() => 'verified'));
      // FUSE keeps a cache of its own below the one we pass by: said so, never passed off as proof.
      expect(new Set(read.map((outcome) => outcome.state === 'verified' && outcome.method))).toEqual(
        new Set([fileSystem === 'ext4' ? 'direct' : 'cached']),
      );
    },
  );

  it('twins by Unicode form, also with the same content, are two files', async () => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, { [`${'é'.normalize('NFC')}.mov`]: 'same', [`${'é'.normalize('NFD')}.mov`]: 'same' });
    const destination = await destinationAt(join(folder.path, 'one'));
    await copyHere({ source, destinations: [destination] });
    expect(await storedAt(destination.root)).toHaveLength(2);
  });

  it.skipIf(whyNoMounts).each(['same', 'another'])(
    `twins by case (content: %s) are two files on exFAT, which folds case${skipped}`,
    async (content) => {
      await using image = await mountImage('exfat', 16);
      await using folder = await temporaryFolder();
      const source = join(folder.path, 'drive');
      await writeTree(source, { 'CLIP.MOV': 'same', 'clip.mov': content });
      const destination = await destinationAt(image.path);
      for (const _ of ['first', 'again']) {
        const outcomes = await copyHere({ source, destinations: [destination] });
        const stored = outcomes.map((outcome) =>
          outcome.state === 'written' ? outcome.storedPath : outcome.failure.sentence,
        );
        expect(new Set(stored.map((name) => name.toLowerCase())).size).toBe(2);
        expect(await storedAt(image.path)).toEqual(stored.toSorted());
        expect(await readFile(join(image.path, ROLL.folder, stored[1] ?? ''), 'utf8')).toBe(content);
      }
    },
  );
});
