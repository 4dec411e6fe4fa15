import { cp, mkdir, rm, symlink, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import type { Store } from '@quayside/job-queue';
import { expect, it } from 'vitest';
import {
  eventually,
  isShownClear,
  makeClear,
  openDesk,
  openStudio,
  type Studio,
  untilStanding,
  watch,
} from './desk.test-support.ts';

/** The store, noting after each write of a volume whether its drive is shown as clear. */
function listenIn({ store }: Studio): { store: Store; shown: string[] } {
  const shown: string[] = [];
  const listening: Store = {
    ...store,
    async saveVolume(volume) {
      await store.saveVolume(volume);
      shown.push(`${volume.standing} ${(await isShownClear(store, volume.identity.key)) ? 'CLEAR' : 'HOLD'}`);
    },
  };
  return { store: listening, shown };
}

it('a drive that changed while no watcher ran is at no time shown as clear after the start', async () => {
  const studio = await openStudio();
  const card = await studio.insert('WHEEL');
  const { key } = card.identity;
  const first = openDesk(studio);
  await first.desk.appeared(card);
  await untilStanding(studio, key, 'settled');
  await makeClear(studio, key);
  await first.stop();
  await writeFile(join(card.mount.path, 'CLIPS', 'b.mov'), 'late');

  const { store, shown } = listenIn(studio);
  const second = openDesk(studio, store);
  await second.desk.beginAnew({ roots: [studio.root], folders: true });
  expect(await isShownClear(store, key)).toBe(false);
  expect(await store.roll('wheel-1')).toMatchObject({ mount: null, clearance: { verdict: 'clear' } });
  await studio.queue.clear();
  await second.desk.appeared(card);
  await untilStanding(studio, key, 'settling');
  await untilStanding(studio, key, 'settled');
  // What is shown is looked at after it was saved.
  await eventually(async () => shown.length > 1);
  expect(shown).toEqual(['settling HOLD', 'settled HOLD']);
  expect((await store.volume(key))?.fileCount).toBe(2);
  // The worker takes the rest from here.
  await eventually(async () => (await studio.queue.counts()).waiting > 0);
});

it('a roll whose drive was seen again with other content, without having left, loses its verdict before the drive settles', async () => {
  const studio = await openStudio();
  const card = await studio.insert('WHEEL');
  const { key } = card.identity;
  const { store, shown } = listenIn(studio);
  const { desk } = openDesk(studio, store);
  await desk.appeared(card);
  await untilStanding(studio, key, 'settled');
  await makeClear(studio, key);
  shown.length = 0;
  await writeFile(join(card.mount.path, 'CLIPS', 'b.mov'), 'late');
  await desk.appeared(card);
  await eventually(async () => shown.includes('settled HOLD') || shown.includes('settled CLEAR'));
  expect(shown.filter((line) => line.startsWith('settled'))).toEqual(['settled HOLD']);
  expect((await store.roll('wheel-1'))?.clearance).toMatchObject({ reasons: [{ code: 'VOLUME_CHANGED' }] });
});

it('a drive that left while no watcher ran is shown as gone after the start', async () => {
  const studio = await openStudio();
  const card = await studio.insert('WHEEL');
  const first = openDesk(studio);
  await first.desk.appeared(card);
  await untilStanding(studio, card.identity.key, 'settled');
  await first.stop();
  await rm(card.mount.path, { recursive: true });
  await openDesk(studio).desk.beginAnew({ roots: [studio.root], folders: true });
  expect(await studio.store.volume(card.identity.key)).toMatchObject({ standing: 'gone', mount: null });
});

it('what a look still writes when the drive leaves does not bring the drive back', async () => {
  const studio = await openStudio();
  const card = await studio.insert('WHEEL');
  const gate = Promise.withResolvers<void>();
  let isAtGate = false;
  const slow: Store = {
    ...studio.store,
    async saveVolume(volume) {
      if (volume.standing === 'settled') {
        isAtGate = true;
        await gate.promise;
      }
      await studio.store.saveVolume(volume);
    },
  };
  const { desk } = openDesk(studio, slow);
  await desk.appeared(card);
  await eventually(async () => isAtGate);
  const leaving = desk.left(card);
  // Time enough to overtake, were that possible.
  await pause(100);
  gate.resolve();
  await leaving;
  await desk.settled();
  await pause(100);
  expect(await studio.store.volume(card.identity.key)).toMatchObject({ standing: 'gone', mount: null });
});

it('drives that cannot be told apart are shown as unreadable with the reason, and one alone settles again', async () => {
  const studio = await openStudio();
  const card = await studio.insert('WHEEL');
  const { key } = card.identity;
  watch(studio, openDesk(studio).desk);
  await untilStanding(studio, key, 'settled');
  await makeClear(studio, key);
  await cp(card.mount.path, join(studio.root, 'copy'), { recursive: true });
  await untilStanding(studio, key, 'unreadable');
  expect(await studio.store.volume(key)).toMatchObject({
    recorder: 'wheel',
    why: expect.stringContaining('cannot be told from another one') as string,
  });
  await eventually(async () => (await studio.store.roll('wheel-1'))?.mount === null);
  await rm(join(studio.root, 'copy'), { recursive: true });
  await untilStanding(studio, key, 'settled');
  expect(await studio.store.volume(key)).toMatchObject({ why: null, mount: card.mount });
});

it('of three that cannot be told apart, the two that stay are still shown, and when all left they are gone', async () => {
  const studio = await openStudio();
  const { identity, mount } = await studio.insert('WHEEL');
  for (const name of ['copy-1', 'copy-2']) await cp(mount.path, join(studio.root, name), { recursive: true });
  const all = [await studio.sighted('WHEEL'), await studio.sighted('copy-1'), await studio.sighted('copy-2')];
  const { desk } = openDesk(studio);
  for (const one of all) await desk.appeared(one);
  const standings: unknown[] = [];
  for (const one of all) {
    await rm(one.mount.path, { recursive: true });
    await desk.left(one);
    standings.push((await studio.store.volume(identity.key))?.standing);
  }
  expect(standings).toEqual(['unreadable', 'unreadable', 'gone']);
});

it('a drive that receives copies is not attended, also where the destination is a link and not made yet', async () => {
  const studio = await openStudio('link/footage');
  const [shelf, card] = [await studio.insert('SHELF'), await studio.insert('WHEEL')];
  await symlink(shelf.mount.path, join(studio.folder, 'link'));
  const { desk } = openDesk(studio);
  await desk.appeared(shelf);
  await desk.appeared(card);
  await untilStanding(studio, card.identity.key, 'settled');
  await mkdir(join(shelf.mount.path, 'footage'));
  await desk.appeared(shelf);
  await pause(100);
  expect(await studio.store.volume(shelf.identity.key)).toBeNull();
});
