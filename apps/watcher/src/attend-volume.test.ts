import { execFile } from 'node:child_process';
import { chmod, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { expect, it, onTestFinished } from 'vitest';
import {
  eventually,
  isShownClear,
  makeClear,
  openDesk,
  openStudio,
  type Studio,
  untilStanding,
} from './desk.test-support.ts';

async function redisCli({ socket }: Studio, ...args: readonly string[]): Promise<void> {
  await promisify(execFile)('redis-cli', ['-s', socket, ...args]);
}

it('a listing that Redis refused once is saved later, and the intake is asked for', async () => {
  const studio = await openStudio();
  const { store, queue, lines } = studio;
  const card = await studio.insert('WHEEL');
  const { key } = card.identity;
  const { desk } = openDesk(studio);
  await desk.appeared(card);
  await untilStanding(studio, key, 'settling');
  await redisCli(studio, 'config', 'set', 'maxmemory', '1');
  await eventually(async () => lines.some((line) => line.includes('refused a command')));
  await redisCli(studio, 'config', 'set', 'maxmemory', '0');
  await eventually(async () => (await queue.counts()).waiting > 0);
  expect((await store.listing(key))?.files.map(({ path }) => path)).toEqual(['CLIPS/a.mov']);
  expect(await store.volume(key)).toMatchObject({ standing: 'settled', fileCount: 1 });
});

it('a volume of which Redis has gone back to an older state is shown as it is, and its intake is asked for', async () => {
  const studio = await openStudio();
  const { store, queue } = studio;
  const card = await studio.insert('WHEEL');
  const { key } = card.identity;
  const { desk } = openDesk(studio);
  await desk.appeared(card);
  await untilStanding(studio, key, 'settled');
  const [volume, listing] = [await store.volume(key), await store.listing(key)];
  await makeClear(studio, key);
  const roll = await store.roll('wheel-1');
  await writeFile(join(card.mount.path, 'CLIPS', 'b.mov'), 'second');
  await eventually(async () => (await store.listing(key))?.files.length === 2);
  await untilStanding(studio, key, 'settled');
  if (volume === null || listing === null || roll === null) throw new Error('it had settled');
  // As it was before: the drive with one clip, clear.
  await store.saveVolume(volume);
  await store.saveListing(key, listing);
  await store.changeRoll(roll.id, () => roll);
  await eventually(async () => (await store.listing(key))?.files.length === 2);
  await eventually(async () => !(await isShownClear(store, key)) && (await queue.counts()).waiting > 0);
});

it('a volume that could not be listed once settles again with the same content', async () => {
  const studio = await openStudio();
  const { store } = studio;
  // Whoever is not root needs the right to pass through, for the look at whether the folder is the same.
  await chmod(studio.folder, 0o711);
  const card = await studio.insert('WHEEL');
  const { key } = card.identity;
  const { desk } = openDesk(studio);
  await desk.appeared(card);
  await untilStanding(studio, key, 'settled');
  onTestFinished(() => becomeRoot());
  await chmod(card.mount.path, 0o000);
  becomeNobody();
  await untilStanding(studio, key, 'unreadable');
  expect((await store.volume(key))?.why).not.toBeNull();
  becomeRoot();
  await chmod(card.mount.path, 0o755);
  await untilStanding(studio, key, 'settled');
  expect((await store.volume(key))?.why).toBeNull();
});

const isRoot = process.getuid?.() === 0;

/** To root every folder is readable, so it takes off its rights for a while. */
function becomeNobody(): void {
  if (isRoot) process.seteuid?.(65_534);
}

function becomeRoot(): void {
  if (isRoot) process.seteuid?.(0);
}
