import { mkdir, symlink } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { errorCodeOf } from '../direct-io/file-calls.ts';
import { temporaryFolder, writeTree } from '../media-files.test-support.ts';
import { lookAtFiles } from './look-at-files.ts';

it('tells of each path what lies there, in the order asked, whatever happens at the others', async () => {
  await using folder = await temporaryFolder();
  const names = Array.from({ length: 300 }, (_, index) => `${index}.xml`);
  await writeTree(folder.path, Object.fromEntries(names.map((name, index) => [name, index])));
  await symlink(join(folder.path, '1.xml'), join(folder.path, 'link'));
  await mkdir(join(folder.path, 'folder'));
  const asked = [...names, 'link', 'folder', 'nothing', '1.xml/below'].map((name) => join(folder.path, name));
  const found = await lookAtFiles(asked);
  expect(found.map((one) => (one instanceof Error ? errorCodeOf(one) : one.isFile() ? one.size : 'no file'))).toEqual([
    ...names.keys(),
    'no file',
    'no file',
    'ENOENT',
    'ENOTDIR',
  ]);
  expect(await lookAtFiles([])).toEqual([]);
});
