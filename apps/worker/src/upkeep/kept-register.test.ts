import { advance } from '@quayside/pipeline';
import { expect, it } from 'vitest';
import { takeIn } from '../intake/take-in.ts';
import { openWorkplace, VOLUME_KEY } from '../worker.test-support.ts';
import { KeptRegister } from './kept-register.ts';

it('reads a roll only when it has changed, and knows what is kept of all of them', async () => {
  const place = await openWorkplace();
  const { store } = place;
  const id = (await takeIn(place, VOLUME_KEY, await place.plug({ 'CLIPS/a.mov': 'first take' }))) ?? '';
  const read: string[] = [];
  const register = new KeptRegister({
    rollVersions: () => store.rollVersions(),
    roll: (rollId) => {
      read.push(rollId);
      return store.roll(rollId);
    },
  });
  expect(await register.copies()).toEqual([]);
  await register.copies();
  expect(read).toEqual([id]);

  const sealed = { type: 'sealed', visit: 1, destination: 'backup', attempt: 0, generation: 1 } as const;
  const readBackAt = '2026-11-25T10:00:00.000Z';
  await store.changeRoll(id, (roll) => advance(roll, { ...sealed, readBackAt }, readBackAt));
  expect(await register.copies()).toMatchObject([{ rollId: id, destination: 'backup', readBackAt, fileCount: 1 }]);
  expect(read).toEqual([id, id]);
});
