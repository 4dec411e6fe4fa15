import { execFileSync } from 'node:child_process';
import { mkdir, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { readDestinationMarker } from '@quayside/media-files';
import { expect, it, onTestFinished } from 'vitest';
import { mountAt, openWorkplace, type Workplace } from '../worker.test-support.ts';

const isRoot = process.getuid?.() === 0 && process.platform === 'linux';

async function failureAt(workplace: Workplace, name: string): Promise<string | null> {
  const [found] = await workplace.book.find([name]);
  return found?.failure?.code ?? null;
}

it('meets a destination once: its marker is made, remembered, and known again after a restart', async () => {
  const workplace = await openWorkplace();
  const [primary, backup] = await workplace.book.find();
  expect([primary?.failure, backup?.failure]).toEqual([null, null]);
  const marker = await readDestinationMarker(workplace.destination('primary'));
  expect(marker).toMatchObject({ id: primary?.destination.id, name: 'primary' });
  expect(primary?.destination.id).not.toBe(backup?.destination.id);
  const [again] = await workplace.bookAfterRestart().find(['primary']);
  expect(again?.destination).toEqual(primary?.destination);
});

it('makes one marker each, and remembers all, when destinations are met from several sides at once', async () => {
  const workplace = await openWorkplace();
  const names = Array.from({ length: 8 }, (_, index) => (index % 2 === 0 ? 'primary' : 'backup'));
  const found = await Promise.all(names.map((name) => workplace.book.find([name])));
  const remembered: unknown = JSON.parse(
    await readFile(join(workplace.configuration.data, 'destinations.json'), 'utf8'),
  );
  for (const name of ['primary', 'backup']) {
    const ids = new Set(found.flat().flatMap(({ destination }) => (destination.name === name ? [destination.id] : [])));
    const marker = await readDestinationMarker(workplace.destination(name));
    expect([...ids]).toEqual([marker?.id]);
    expect(remembered).toHaveProperty(`${name}.id`, marker?.id);
  }
});

it('takes the marker over that a destination has from an earlier installation', async () => {
  const workplace = await openWorkplace();
  const [before] = await workplace.book.find(['primary']);
  await rm(join(workplace.configuration.data, 'destinations.json'));
  const [after] = await workplace.bookAfterRestart().find(['primary']);
  expect(after?.destination.id).toBe(before?.destination.id);
});

it('refuses the empty folder where the drive should be mounted, and writes nothing into it', async () => {
  const workplace = await openWorkplace();
  await workplace.book.find();
  const path = workplace.destination('primary');
  await rename(path, `${path}-drive`);
  await mkdir(path);
  expect(await failureAt(workplace, 'primary')).toBe('DESTINATION_NOT_MOUNTED');
  expect(await readdir(path)).toEqual([]);
  await rm(path, { recursive: true });
  expect(await failureAt(workplace, 'primary')).toBe('DESTINATION_MISSING');
  await rename(`${path}-drive`, path);
  expect(await failureAt(workplace, 'primary')).toBeNull();
});

it('refuses another drive that is mounted in its place', async () => {
  const workplace = await openWorkplace();
  await workplace.book.find();
  const [primary, backup] = [workplace.destination('primary'), workplace.destination('backup')];
  await rename(primary, `${primary}-drive`);
  await rename(backup, primary);
  expect(await failureAt(workplace, 'primary')).toBe('DESTINATION_NOT_MOUNTED');
});

it('refuses a destination on a recorder’s drive before anything is written there, its marker included', async () => {
  const workplace = await openWorkplace();
  await workplace.plug({ 'a.mov': 'x' }, { mount: mountAt(join(workplace.folder, 'destinations')) });
  const [found] = await workplace.book.find(['primary']);
  expect(found?.failure).toMatchObject({ code: 'DESTINATION_INSIDE_SOURCE', retry: 'never' });
  expect(await readdir(workplace.destination('primary'))).toEqual([]);
});

it('looks at a destination without writing, which finding does not', async () => {
  const workplace = await openWorkplace();
  await workplace.book.find(['primary']);
  await rm(join(workplace.destination('primary'), '.quayside', 'staging'), { recursive: true, force: true });
  const before = await treeOf(workplace.destination('primary'));
  expect((await workplace.book.look(['primary']))[0]?.failure).toBeNull();
  expect(await treeOf(workplace.destination('primary'))).toEqual(before);
  await workplace.book.find(['primary']);
  expect(await treeOf(workplace.destination('primary'))).not.toEqual(before);
});

// A real read-only mount: rights do not stop root.
it.skipIf(!isRoot)(
  'finds a destination that can only be read unwritable, and can look at it all the same',
  async () => {
    const workplace = await openWorkplace();
    await workplace.book.find(['primary']);
    const path = workplace.destination('primary');
    execFileSync('mount', ['--bind', path, path]);
    onTestFinished(() => void execFileSync('umount', ['--lazy', path]));
    execFileSync('mount', ['-o', 'remount,bind,ro', path]);
    expect(await failureAt(workplace, 'primary')).toBe('DESTINATION_READ_ONLY');
    expect((await workplace.book.look(['primary']))[0]?.failure).toBeNull();
  },
);

it('tells of a destination that is not configured, and of a list that is damaged, without making a new one', async () => {
  const workplace = await openWorkplace();
  expect(await failureAt(workplace, 'vault')).toBe('DESTINATION_UNKNOWN');
  const file = join(workplace.configuration.data, 'destinations.json');
  await workplace.book.find();
  await writeFile(file, '{"primary":');
  await expect(workplace.bookAfterRestart().find(['primary'])).rejects.toMatchObject({
    code: 'DESTINATION_BOOK_DAMAGED',
  });
  expect(await readFile(file, 'utf8')).toBe('{"primary":');
});

async function treeOf(folder: string): Promise<readonly string[]> {
  return (await readdir(folder, { recursive: true })).toSorted();
}
