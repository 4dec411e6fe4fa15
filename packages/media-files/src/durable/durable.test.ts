import { mkdir, readdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { temporaryFolder } from '../media-files.test-support.ts';
import { createFolderDurably } from './create-folder-durably.ts';
import { writeDurably } from './write-durably.ts';

it('a record is written whole, replaces the one before, and leaves nothing beside it', async () => {
  await using folder = await temporaryFolder();
  const path = join(folder.path, 'shoot.json');
  await writeDurably(path, 'first, and longer');
  await writeDurably(path, Buffer.from('second'));
  expect(await readFile(path, 'utf8')).toBe('second');
  expect(await readdir(folder.path)).toEqual(['shoot.json']);
});

it('a record that cannot take its name leaves what was there, and nothing beside it', async () => {
  await using folder = await temporaryFolder();
  const path = join(folder.path, 'shoot.json');
  await mkdir(path);
  await expect(writeDurably(path, 'text')).rejects.toThrow();
  expect(await readdir(folder.path)).toEqual(['shoot.json']);
});

it('folders are created with all above them, and one that is there is left as it is', async () => {
  await using folder = await temporaryFolder();
  const path = join(folder.path, 'a/b/c');
  await createFolderDurably(path);
  await writeFile(join(path, 'kept'), 'kept');
  await createFolderDurably(path);
  expect(await readdir(path)).toEqual(['kept']);
});
