import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { canUseBay } from '../bay/can-use-bay.ts';
import { whereBytesLie } from '../bay/where-bytes-lie.ts';
import type { RecorderDrive } from '../torture/studio/recorder-drive.ts';
import { lookAtCopies } from '../torture/truth/look-at-copies.ts';
import { FaultStudio } from './fault-studio.test-support.ts';

const ability = await canUseBay();
const CLIP = 'CLIPS/A001.MOV';

describe.skipIf(!ability.ok)(
  `bad reads${ability.ok ? '' : ` (skipped: ${ability.reason})`}`,
  { timeout: 240_000 },
  () => {
    let faults: FaultStudio;
    beforeAll(async () => {
      faults = await FaultStudio.open();
    }, 240_000);
    afterEach(() => faults.clearAway());
    afterAll(() => faults[Symbol.asyncDispose]());

    it('EIO on one region that passes within a second is tried again, and nobody is troubled', async () => {
      const wheel = await faults.record('wheel');
      await wheel.insert(faults.slot(), 'has a bad region');
      await breakClip(wheel);
      await faults.untilDone(wheel, 0.01);
      await wheel.slot.switches.breakRegion(null);
      const roll = await faults.untilClear(wheel);
      expect(await faults.findingsOf(roll)).toEqual([]);
    });

    it('EIO on one region that stays is a finding with its place, the rest is copied, and the roll holds until another reader reads it', async () => {
      const wheel = await faults.record('wheel');
      await wheel.insert(faults.slot(), 'has a bad region');
      const broken = await breakClip(wheel);
      const roll = await faults.untilHeld(wheel);
      const found = (await faults.findingsOf(roll)).filter(({ code }) => code === 'SOURCE_READ_ERROR');
      expect(found.map(({ subject }) => subject.path)).toContain(CLIP);
      const [, told] = /at byte (\d+)/.exec(found[0]?.why ?? '') ?? [];
      // Told as the first byte of the piece that could not be read, and a piece has 128 KiB.
      expect(Math.abs(Number(told) - broken)).toBeLessThan(128 * 1024);
      for (const destination of faults.studio.destinations) {
        const { stored } = await lookAtCopies(roll, destination);
        for (const path of ['CLIPS/B001.MOV', 'NOTES.TXT']) expect(stored.get(path)).toBe(wheel.footage.get(path));
        expect([...stored.keys()]).not.toContain(CLIP);
      }
      await wheel.pull();
      await wheel.insert(faults.slot());
      await faults.untilClear(wheel);
    });
  },
);

/** Makes one block in the middle of the clip unreadable, and gives its place in the file. */
async function breakClip(drive: RecorderDrive): Promise<number> {
  const places = await whereBytesLie(join(drive.slot.path, CLIP));
  const [first = { position: 0, lengthInBytes: 0 }, second = first] = places;
  await drive.slot.switches.breakRegion({ from: second.position, to: second.position + 4096 });
  return second === first ? 0 : first.lengthInBytes;
}
