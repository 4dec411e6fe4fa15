import { existsSync } from 'node:fs';
import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { canUseBay } from '../bay/can-use-bay.ts';
import { runTool } from '../drives/run-tool.ts';
import type { ShownRoll } from '../service/start-service.ts';
import type { RecorderDrive } from '../torture/studio/recorder-drive.ts';
import { lookAtCopies } from '../torture/truth/look-at-copies.ts';
import { FaultStudio } from './fault-studio.test-support.ts';

const ability = await canUseBay();
const MIB = 2 ** 20;

// In each of them the healthy destination finishes, the roll holds meanwhile, and the missing copy is made by itself.
describe.skipIf(!ability.ok)(
  `destinations${ability.ok ? '' : ` (skipped: ${ability.reason})`}`,
  { timeout: 240_000 },
  () => {
    let faults: FaultStudio;
    beforeAll(async () => {
      faults = await FaultStudio.open();
    }, 240_000);
    afterEach(() => faults.clearAway());
    afterAll(() => faults[Symbol.asyncDispose]());

    it('a destination that is full in the middle', async () => {
      const backup = faults.destination('backup');
      const wheel = await faults.plugIn('wheel');
      await faults.untilDone(wheel, 0.1);
      const ballast = join(backup.root, 'other work');
      await runTool('fallocate', '--length', String((await backup.freeBytes()) - MIB), ballast);
      await expectHealthyOne(wheel, 'DESTINATION_FULL');
      await rm(ballast);
      await faults.untilClear(wheel);
    });

    it('a destination that is mounted read-only in the middle', async () => {
      const backup = faults.destination('backup');
      const wheel = await faults.plugIn('wheel');
      await faults.untilDone(wheel, 0.1);
      await runTool('mount', '-o', 'remount,abort', backup.root);
      await expectHealthyOne(wheel, /^DESTINATION_/);
      await backup.pull();
      await backup.comeBack();
      await faults.untilClear(wheel);
    });

    it('a destination that is pulled in the middle and comes back later', async () => {
      const backup = faults.destination('backup');
      const wheel = await faults.plugIn('wheel');
      await faults.untilDone(wheel, 0.1);
      await backup.pull();
      const roll = await expectHealthyOne(wheel, /^DESTINATION_/);
      expect(existsSync(join(backup.root, roll.shootId))).toBe(false);
      await backup.comeBack();
      await faults.untilClear(wheel);
    });

    it('a destination whose writes fail at their sync: the copy is written anew', async () => {
      const backup = faults.destination('backup');
      const wheel = await faults.plugIn('wheel');
      await faults.untilDone(wheel, 0.1);
      await backup.slot.switches.failWrites(true);
      await expectHealthyOne(wheel, /^DESTINATION_/);
      await backup.slot.switches.failWrites(false);
      await backup.pull();
      await backup.comeBack();
      await faults.untilClear(wheel);
    });

    it('a destination that is slow', async () => {
      const backup = faults.destination('backup');
      await backup.slot.switches.slowDown(4 * MIB);
      const wheel = await faults.plugIn('wheel', { pace: null });
      await faults.untilClear(wheel);
    });

    async function expectHealthyOne(drive: RecorderDrive, code: string | RegExp): Promise<ShownRoll> {
      const roll = await faults.untilHeld(drive);
      const codesNow = async (): Promise<string> => {
        const { destinations, failures } = await faults.service.get<{
          destinations: Readonly<Record<string, { failure: { code: string } | null }>>;
          failures: readonly { destination: string; failure: { code: string } }[];
        }>(`/v1/rolls/${roll.id}`);
        return [
          ...failures.filter(({ destination }) => destination === 'backup').map(({ failure }) => failure.code),
          ...(destinations['backup']?.failure == null ? [] : [destinations['backup'].failure.code]),
        ].join();
      };
      // It is tried again by itself, and while it is there is no failure.
      await expect.poll(codesNow, { timeout: 60_000 }).toMatch(code);
      const { stored, proven } = await lookAtCopies(roll, faults.destination('primary'));
      for (const [path, digest] of drive.footage) {
        expect(stored.get(path)).toBe(digest);
        expect([...proven]).toContain(path);
      }
      return roll;
    }
  },
);
