import { stat, statfs } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { canUseBay } from '../bay/can-use-bay.ts';
import { dropCaches } from '../bay/flip-bit.ts';
import { runTool } from '../drives/run-tool.ts';
import type { RecorderDrive } from '../torture/studio/recorder-drive.ts';
import { lookAtCopies } from '../torture/truth/look-at-copies.ts';
import { FaultStudio } from './fault-studio.test-support.ts';

const ability = await canUseBay();

// Rights do not stop root, so the drive itself is what cannot be read.
describe.skipIf(!ability.ok)(
  `drives that cannot be listed${ability.ok ? '' : ` (skipped: ${ability.reason})`}`,
  { timeout: 240_000 },
  () => {
    let faults: FaultStudio;
    beforeAll(async () => {
      faults = await FaultStudio.open();
    }, 240_000);
    afterEach(() => faults.clearAway());
    afterAll(() => faults[Symbol.asyncDispose]());

    it('a drive that answers nothing any more is shown as unreadable with the reason, and no yes is given until it can be read', async () => {
      const wheel = await faults.record('wheel', 1);
      await wheel.insert(faults.slot());
      const { id } = await faults.untilClear(wheel);
      await wheel.slot.switches.failReads(true);
      await dropCaches();
      const volume = await faults.service.until('the drive is unreadable', async () => {
        const found = await volumeOf(faults, wheel);
        return found?.standing === 'unreadable' ? found : null;
      });
      expect(volume.why).toContain('EIO');
      await faults.service.post(`/v1/rolls/${id}/judge`);
      const held = await faults.untilHeld(wheel);
      expect(held.clearance.verdict === 'hold' && held.clearance.reasons[0]?.code).toBe('VOLUME_UNREADABLE');

      await wheel.slot.switches.failReads(false);
      const again = await faults.service.until('the drive is clear again', async () => {
        await faults.service.post(`/v1/rolls/${id}/judge`).catch(() => undefined);
        const roll = await faults.rollOf(wheel);
        return roll?.clearance.verdict === 'clear' && roll.clearance.judgedAt > held.clearance.judgedAt ? roll : null;
      });
      expect(again.id).toBe(id);
      // Settles anew, as a drive that was just put in.
      await faults.service.until('it has settled', async () =>
        (await volumeOf(faults, wheel))?.standing === 'settled' ? true : null,
      );
    });

    it('a folder that cannot be read is a finding by its name, the rest is copied, and the roll holds until it can be read', async () => {
      const hands = await faults.record('hands', 1);
      await hands.insert(faults.slot(), 'has a bad region');
      await hands.slot.switches.breakRegion(await whereFolderLies(hands, 'CLIPS'));
      await dropCaches();
      const held = await faults.until(hands, 'holds for its folder', ({ clearance }) =>
        clearance.verdict === 'hold' ? clearance.reasons.some(({ code }) => code === 'FILE_UNREADABLE') : false,
      );
      const found = (await faults.findingsOf(held)).find(({ code }) => code === 'FILE_UNREADABLE');
      expect(found?.subject.path).toBe('CLIPS');
      for (const destination of faults.studio.destinations) {
        const { stored } = await lookAtCopies(held, destination);
        expect(stored.get('NOTES.TXT')).toBe(hands.footage.get('NOTES.TXT'));
      }
      await hands.slot.switches.breakRegion(null);
      await faults.untilClear(hands);
    });
  },
);

interface ShownVolume {
  readonly mountPath: string | null;
  readonly standing: string;
  readonly why: string | null;
}

async function volumeOf(faults: FaultStudio, drive: RecorderDrive): Promise<ShownVolume | undefined> {
  const { volumes } = await faults.service.get<{ volumes: readonly ShownVolume[] }>('/v1/volumes');
  return volumes.find(({ mountPath }) => mountPath === drive.slot.path);
}

/** The bytes of the device that hold a folder's names, as debugfs of e2fsprogs tells. */
async function whereFolderLies(drive: RecorderDrive, name: string): Promise<{ from: number; to: number }> {
  const { path, device } = drive.slot;
  expect((await stat(join(path, name))).isDirectory()).toBe(true);
  const block = Number(await runTool('debugfs', '-R', `bmap /${name} 0`, device));
  const { bsize } = await statfs(path);
  expect(block).toBeGreaterThan(0);
  return { from: block * bsize, to: (block + 1) * bsize };
}
