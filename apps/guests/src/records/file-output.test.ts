import { mkdir, mkdtemp, readdir, readFile, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { prepareDestination } from '@quayside/media-files';
import { expect, it, onTestFinished } from 'vitest';
import { fileOutput, hashOutput } from './file-output.ts';

async function bench(): Promise<{ readonly root: string; readonly folder: string }> {
  const base = await mkdtemp(join(tmpdir(), 'quayside-output-'));
  onTestFinished(() => rm(base, { recursive: true }));
  const [root, folder] = [join(base, 'primary'), join(base, 'left')];
  await mkdir(root);
  await mkdir(join(folder, 'frames'), { recursive: true });
  await prepareDestination(root, 'primary');
  return { root, folder };
}

const PLACE = 'class/records/plugins/sheet/page/class';

it('what a run left takes the place of what an earlier one left, whole, with nothing beside it', async () => {
  const { root, folder } = await bench();
  const big = Buffer.alloc(3_000_001, 7);
  await writeFile(join(folder, 'first.txt'), 'first');
  await fileOutput(root, PLACE, await hashOutput(folder, [{ path: 'first.txt', sizeInBytes: 5 }]));
  await writeFile(join(folder, 'frames/big.bin'), big);
  await fileOutput(root, PLACE, await hashOutput(folder, [{ path: 'frames/big.bin', sizeInBytes: big.length }]));
  expect(await readdir(join(root, PLACE))).toEqual(['frames']);
  expect((await readFile(join(root, PLACE, 'frames/big.bin'))).equals(big)).toBe(true);
  expect(await readdir(join(root, PLACE, '..'))).toEqual(['class']);
});

it('a link that took the place of a file is not followed, and what was there stays', async () => {
  const { root, folder } = await bench();
  await writeFile(join(folder, 'page.txt'), 'page');
  await fileOutput(root, PLACE, await hashOutput(folder, [{ path: 'page.txt', sizeInBytes: 4 }]));
  await symlink('/etc/hostname', join(folder, 'secret.txt'));
  const output = await hashOutput(folder, [{ path: 'secret.txt', sizeInBytes: 4 }]);
  await expect(fileOutput(root, PLACE, output)).rejects.toThrow('ELOOP');
  expect(await readdir(join(root, PLACE))).toEqual(['page.txt']);
});

it('a copy that is not what was hashed is refused, and what was there stays', async () => {
  const { root, folder } = await bench();
  await writeFile(join(folder, 'page.txt'), 'page');
  const output = await hashOutput(folder, [{ path: 'page.txt', sizeInBytes: 4 }]);
  await fileOutput(root, PLACE, output);
  await writeFile(join(folder, 'page.txt'), 'edge');
  await expect(fileOutput(root, PLACE, output)).rejects.toMatchObject({ code: 'OUTPUT_COPY_DIFFERS' });
  expect(await readFile(join(root, PLACE, 'page.txt'), 'utf8')).toBe('page');
  expect(await readdir(join(root, PLACE, '..'))).toEqual(['class']);
});
