import { readdir } from 'node:fs/promises';
import { setTimeout as wait } from 'node:timers/promises';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { canUseBay } from '../bay/can-use-bay.ts';
import { takeDice } from '../torture/dice.ts';
import { layFile } from '../torture/studio/recorder-drive.ts';
import { FaultStudio } from './fault-studio.test-support.ts';

const ability = await canUseBay();

describe.skipIf(!ability.ok)(
  `interruptions${ability.ok ? '' : ` (skipped: ${ability.reason})`}`,
  { timeout: 240_000 },
  () => {
    let faults: FaultStudio;
    beforeAll(async () => {
      faults = await FaultStudio.open();
    }, 240_000);
    afterEach(() => faults.clearAway());
    afterAll(() => faults[Symbol.asyncDispose]());

    it('a drive that is pulled is shown interrupted, with how far it stood, people are told once, and others go on', async () => {
      const wheel = await faults.plugIn('wheel');
      const hands = await faults.plugIn('hands');
      await faults.untilDone(wheel, 0.1);
      await wheel.pull();
      const away = await faults.until(wheel, 'is interrupted', ({ activity }) => activity === 'interrupted');
      // On a busy machine a look falls between the loss of its power and of its mount, and tells of its content too.
      expect(away.clearance).toMatchObject({
        verdict: 'hold',
        reasons: expect.arrayContaining([expect.objectContaining({ code: 'VOLUME_AWAY' })]),
      });
      expect(away.drivePresent).toBe(false);
      await faults.untilClear(hands);
      const still = await faults.until(wheel, 'is there', () => true);
      expect(still.activity).toBe('interrupted');
      expect(still.progress.fraction).toBeGreaterThan(0);
      expect((await faults.eventsOf(away)).filter(({ type }) => type === 'roll.interrupted')).toHaveLength(1);
      const told = faults.service.log.filter((line) => line.includes(away.id) && line.includes('HOLD the drive'));
      expect(told).toHaveLength(1);
      await wheel.insert(faults.slot());
      await faults.untilClear(wheel);
    });

    it('a drive that answers every read with EIO, still mounted, waits and goes on by itself when it reads again', async () => {
      const wheel = await faults.plugIn('wheel');
      const hands = await faults.plugIn('hands');
      await faults.untilDone(wheel, 0.1);
      await wheel.slot.switches.failReads(true);
      // While it cannot be read, another one is finished.
      await faults.untilClear(hands);
      const meanwhile = await faults.until(wheel, 'is there', () => true);
      expect(meanwhile.clearance.verdict).toBe('hold');
      await wheel.slot.switches.failReads(false);
      const roll = await faults.untilClear(wheel);
      expect((await faults.findingsOf(roll)).filter(({ severity }) => severity === 'critical')).toEqual([]);
    });

    it('a drive whose mount goes while its files can still be read, and that comes back after the service was stopped and started, goes on', async () => {
      const wheel = await faults.plugIn('wheel');
      const { id } = await faults.untilDone(wheel, 0.2);
      await wheel.unmountLazily();
      await faults.until(wheel, 'is interrupted', ({ activity }) => activity === 'interrupted');
      await faults.service.stop();
      await faults.service.run();
      await wheel.insert(faults.slot());
      expect((await faults.untilClear(wheel)).id).toBe(id);
    });

    it('what was changed on a drive while it was away is seen, and taken anew', async () => {
      const wheel = await faults.plugIn('wheel');
      await faults.untilDone(wheel, 0.2);
      await wheel.pull();
      await wheel.change((path) => layFile(join(path, 'CLIPS/A001.MOV'), 24 * 2 ** 20));
      await wheel.insert(faults.slot());
      await faults.untilClear(wheel);
    });

    it('a roll that is moved to another shoot while it is copied lies there whole, and nowhere else', async () => {
      await faults.service.post('/v1/shoots', { name: 'Pottery class' });
      const wheel = await faults.plugIn('wheel');
      const before = await faults.untilDone(wheel, 0.1);
      expect(before.shootId).toBe('pottery-class');
      await faults.service.post('/v1/shoots', { name: 'Evening class' });
      await faults.service.post(`/v1/rolls/${before.id}/move`, { shootId: 'evening-class' });
      const roll = await faults.untilClear(wheel);
      expect(roll).toMatchObject({ id: before.id, shootId: 'evening-class' });
      for (const { root } of faults.studio.destinations)
        expect(await readdir(join(root, 'pottery-class/wheel')).catch(() => [])).toEqual([]);
    });

    it('four drives that vanish and return together, ten times and in any order, end in the bytes of an undisturbed run', async () => {
      const dice = takeDice('ten times');
      const drives = [];
      for (const recorder of ['wheel', 'hands', 'wide', 'kiln'])
        drives.push(await faults.plugIn(recorder, { clipMebibytes: 16, pace: 2 * 2 ** 20 }));
      for (let times = 0; times < 10; times += 1) {
        await wait(dice.between(100, 2000));
        await Promise.all(drives.map((drive) => drive.pull()));
        await wait(dice.between(0, 1200));
        for (const drive of dice.shuffled(drives)) {
          await drive.insert(faults.slot());
          await drive.slot.switches.slowDown(2 * 2 ** 20);
        }
      }
      for (const drive of drives) await drive.slot.switches.slowDown(null);
      for (const drive of drives) await faults.untilClear(drive);
    });
  },
);
