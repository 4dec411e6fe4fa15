import { execFileSync } from 'node:child_process';
import { appendFile, chmod, rm, stat, symlink, utimes } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { listVolume } from '../listing/list-volume.ts';
import { calmControls, copyHere, destinationAt, temporaryFolder, writeTree } from '../media-files.test-support.ts';

import { stagedAt, storedAt, summary } from './copy-outcomes.test-support.ts';

const MIB = 1024 * 1024;

describe('trouble with the source', () => {
  it('a file that is not what was listed is told, and the rest goes on', async () => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, {
      'a.mov': 10,
      'grown.mov': 10,
      'touched.mov': 10,
      'gone.mov': 10,
      'link.mov': 10,
      'z.mov': 10,
    });
    const { files } = await listVolume(source, { litter: [] });
    await appendFile(join(source, 'grown.mov'), 'more');
    await utimes(join(source, 'touched.mov'), 1, 1);
    await rm(join(source, 'gone.mov'));
    await rm(join(source, 'link.mov'));
    await symlink(join(source, 'a.mov'), join(source, 'link.mov'));
    const destination = await destinationAt(join(folder.path, 'one'));
    expect(summary(await copyHere({ source, files, destinations: [destination] }))).toEqual([
      'a.mov primary a.mov',
      'gone.mov primary SOURCE_CHANGED',
      'grown.mov primary SOURCE_CHANGED',
      'link.mov primary SOURCE_CHANGED',
      'touched.mov primary SOURCE_CHANGED',
      'z.mov primary z.mov',
    ]);
    expect(await storedAt(destination.root)).toEqual(['a.mov', 'z.mov']);
  });

  it('a file that changes while it is read gets no copy', async () => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, { 'a.mov': 20 * MIB });
    const destination = await destinationAt(join(folder.path, 'one'));
    let isTouched = false;
    const controls = calmControls();
    const onBytes = (): void => {
      if (!isTouched) execFileSync('touch', [join(source, 'a.mov')]);
      isTouched = true;
    };
    expect(
      summary(await copyHere({ source, destinations: [destination], controls: { ...controls, onBytes } })),
    ).toEqual(['a.mov primary SOURCE_CHANGED']);
    expect(await storedAt(destination.root)).toEqual([]);
    expect(await stagedAt(destination.root)).toEqual([]);
  });

  it('a path that would leave the volume is refused', async () => {
    await using folder = await temporaryFolder();
    await writeTree(folder.path, { 'drive/a.mov': 10, 'secret.mov': 'secret' });
    const destination = await destinationAt(join(folder.path, 'one'));
    const files = [
      { path: '../secret.mov', sizeInBytes: 6, modifiedMs: (await stat(join(folder.path, 'secret.mov'))).mtimeMs },
    ];
    expect(summary(await copyHere({ source: join(folder.path, 'drive'), files, destinations: [destination] }))).toEqual(
      ['../secret.mov primary PATH_ESCAPES'],
    );
    expect(await storedAt(destination.root)).toEqual([]);
  });

  it('a folder that became a link is not followed', async () => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, { 'c/a.mov': 'inside' });
    const { files } = await listVolume(source, { litter: [] });
    execFileSync('mv', [join(source, 'c'), join(folder.path, 'elsewhere')]);
    await symlink(join(folder.path, 'elsewhere'), join(source, 'c'));
    const destination = await destinationAt(join(folder.path, 'one'));
    expect(summary(await copyHere({ source, files, destinations: [destination] }))).toEqual([
      'c/a.mov primary SOURCE_CHANGED',
    ]);
  });

  const isRoot = process.getuid?.() === 0;
  it.skipIf(isRoot)(
    `a file that may not be read is told by name${isRoot ? ' (skipped: root may read everything)' : ''}`,
    async () => {
      await using folder = await temporaryFolder();
      const source = join(folder.path, 'drive');
      await writeTree(source, { 'a.mov': 10 });
      await chmod(join(source, 'a.mov'), 0);
      const destination = await destinationAt(join(folder.path, 'one'));
      expect(summary(await copyHere({ source, destinations: [destination] }))).toEqual([
        'a.mov primary SOURCE_UNREADABLE',
      ]);
    },
  );
});
