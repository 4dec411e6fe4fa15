import { cpSync, mkdirSync, mkdtempSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import type { Failure } from '@quayside/shoot';
import { isStillMounted } from '../watching/is-still-mounted.ts';
import { presentVolumes } from '../watching/present-volumes.ts';
import { folderVolumeMarker, writeFolderVolumeMarker } from './folder-volume.ts';

let root = '';
beforeEach(() => (root = mkdtempSync(join(tmpdir(), 'quayside-folders-'))));
afterEach(() => rmSync(root, { recursive: true, force: true }));

const folder = (name: string): string => {
  mkdirSync(join(root, name), { recursive: true });
  return join(root, name);
};

it('a marked folder is a volume with the identity that was given to it, also after it was renamed', async () => {
  const identity = await writeFolderVolumeMarker(folder('wheel'), { label: 'WHEEL' });
  renameSync(join(root, 'wheel'), join(root, 'renamed'));
  const [volume, ...rest] = await presentVolumes({ roots: [root], folders: true });
  expect(rest).toEqual([]);
  expect(volume).toMatchObject({ identity, hasTwin: false, mount: { path: join(root, 'renamed') } });
  expect(identity).toMatchObject({ basis: 'folder', label: 'WHEEL', fileSystem: 'folder' });
});

it('a left-over empty folder, a file and a deeper folder are no volumes, and none is without being asked for', async () => {
  folder('left-over');
  writeFileSync(join(root, 'file'), '');
  await writeFolderVolumeMarker(folder('deep/down'), { label: 'DEEP' });
  expect(await presentVolumes({ roots: [root], folders: true })).toEqual([]);
  await writeFolderVolumeMarker(folder('wheel'), { label: 'WHEEL' });
  expect(await presentVolumes({ roots: [root], folders: false })).toEqual([]);
});

it('a copied folder has the same key, and both are marked as twins', async () => {
  await writeFolderVolumeMarker(folder('wheel'), { label: 'WHEEL' });
  cpSync(join(root, 'wheel'), join(root, 'copy'), { recursive: true });
  const volumes = await presentVolumes({ roots: [root], folders: true });
  expect(volumes.map(({ hasTwin }) => hasTwin)).toEqual([true, true]);
});

it('a marker that cannot be understood is told, and the others are still seen', async () => {
  await writeFolderVolumeMarker(folder('good'), { label: 'GOOD' });
  for (const [name, text] of [
    ['broken', '{'],
    ['newer', '{"format":2,"id":"x","label":"y"}'],
    ['blank', '{"format":1,"id":"","label":"y"}'],
  ] as const) {
    writeFileSync(join(folder(name), folderVolumeMarker), text);
  }
  const troubles: Failure[] = [];
  const volumes = await presentVolumes({
    roots: [root],
    folders: true,
    onTrouble: (failure) => troubles.push(failure),
  });
  expect(volumes.map(({ identity }) => identity.label)).toEqual(['GOOD']);
  expect(troubles.map(({ code }) => code)).toEqual(Array.from({ length: 3 }, () => 'VOLUME_MARKER_UNREADABLE'));
  expect(troubles.map(({ sentence }) => sentence).join('\n')).toContain(join(root, 'broken'));
});

it('a folder is not marked twice', async () => {
  await writeFolderVolumeMarker(folder('wheel'), { label: 'WHEEL' });
  const before = readFileSync(join(root, 'wheel', folderVolumeMarker), 'utf8');
  await expect(writeFolderVolumeMarker(folder('wheel'), { label: 'HANDS' })).rejects.toMatchObject({
    code: 'VOLUME_MARKER_NOT_WRITTEN',
  });
  expect(readFileSync(join(root, 'wheel', folderVolumeMarker), 'utf8')).toBe(before);
});

it('a root that does not exist is fine', async () => {
  expect(await presentVolumes({ roots: [join(root, 'not-yet')], folders: true })).toEqual([]);
});

it('a folder that was replaced by another of its name is not the same mount', async () => {
  await writeFolderVolumeMarker(folder('wheel'), { label: 'WHEEL' });
  const [volume] = await presentVolumes({ roots: [root], folders: true });
  if (!volume) throw new Error('not seen');
  expect(await isStillMounted(volume.mount)).toBe(true);
  renameSync(join(root, 'wheel'), join(root, 'aside'));
  folder('wheel');
  expect(await isStillMounted(volume.mount)).toBe(false);
});
