import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { canUseBay } from '../bay/can-use-bay.ts';
import { digestsBelow } from '../drives/digests-below.ts';
import { flipByte } from '../drives/flip-byte.ts';
import type { ShownRoll } from '../service/start-service.ts';
import type { RecorderDrive } from '../torture/studio/recorder-drive.ts';
import { FaultStudio } from './fault-studio.test-support.ts';

const ability = await canUseBay();
const CLIP = 'CLIPS/A001.MOV';
const MIB = 2 ** 20;
/** A read-back asks for 32 MiB at once. Of this much, at this pace, it comes to the last byte only after seconds. */
const CLIP_MEBIBYTES = 80;
const PACE = 20 * MIB;

describe.skipIf(!ability.ok)(
  `copies that go bad before they are read back${ability.ok ? '' : ` (skipped: ${ability.reason})`}`,
  { timeout: 240_000 },
  () => {
    let faults: FaultStudio;
    beforeAll(async () => {
      faults = await FaultStudio.open({ verify: { repairs: 1 } });
    }, 240_000);
    afterEach(() => faults.clearAway());
    afterAll(() => faults[Symbol.asyncDispose]());

    it('a copy that fails its verification is set aside and made anew by itself; the roll is clear, and the finding stays', async () => {
      const { wheel, roll } = await plugInBesideSlowBackup();
      await spoilNextCopy(roll);
      await faults.untilClear(wheel);
      const kept = await digestsBelow(asideOf(roll));
      expect([...kept.keys()]).toEqual([CLIP]);
      expect(kept.get(CLIP)).not.toBe(wheel.footage.get(CLIP));
      expect(await faults.findingsOf(roll)).toMatchObject([
        { code: 'CHECKSUM_MISMATCH', why: expect.stringContaining(join(asideOf(roll), CLIP)) },
      ]);
    });

    it('a copy that fails as often as it may be made anew turns the roll to hold, until a retry is asked for', async () => {
      const { wheel, roll } = await plugInBesideSlowBackup();
      await spoilNextCopy(roll);
      await faults.service.until('the bad copy is set aside', async () =>
        existsSync(join(asideOf(roll), CLIP)) ? true : null,
      );
      await faults.destination('backup').slot.switches.slowDown(PACE);
      await spoilNextCopy(roll);
      const held = await faults.untilHeld(wheel);
      expect(await faults.findingsOf(held)).toContainEqual(
        expect.objectContaining({ code: 'CHECKSUM_MISMATCH', why: expect.stringContaining('A001.MOV') }),
      );
      await faults.service.post(`/v1/rolls/${roll.id}/retry`);
      await faults.untilClear(wheel);
    });

    async function plugInBesideSlowBackup(): Promise<{ wheel: RecorderDrive; roll: ShownRoll }> {
      await faults.destination('backup').slot.switches.slowDown(PACE);
      const wheel = await faults.plugIn('wheel', { clipMebibytes: CLIP_MEBIBYTES, pace: null });
      return { wheel, roll: await faults.until(wheel, 'is known', () => true) };
    }

    /** The moment the clip has its name at the slow destination, a byte changes where the read-back comes last. */
    async function spoilNextCopy({ id, shootId, recorder }: ShownRoll): Promise<void> {
      const backup = faults.destination('backup');
      const path = join(backup.root, shootId, recorder, id, CLIP);
      await faults.service.until('the copy has its name', async () => (existsSync(path) ? true : null));
      await flipByte(path, 'last');
      await backup.slot.switches.slowDown(null);
    }

    function asideOf({ id }: ShownRoll): string {
      return join(faults.destination('backup').root, '.quayside/set-aside', id);
    }
  },
);
