import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { canMountDrives } from '../drives/can-mount-drives.ts';
import type { Service, ShownRoll } from '../service/start-service.ts';
import { digestsBelow, Studio } from './studio.test-support.ts';

const ability = await canMountDrives();
const MIB = 2 ** 20;
const CLEAR = { verdict: 'clear', judgedAt: expect.any(String), cautions: [] };

function folderOf(studio: Studio, destination: string, roll: ShownRoll): string {
  return join(studio.destination(destination), roll.shootId, 'wheel', roll.id);
}

describe.skipIf(!ability.ok)(
  `repairs${ability.ok ? '' : ` (skipped: ${ability.reason})`}`,
  { timeout: 240_000 },
  () => {
    it('a destination that was away gets its copies from the proven ones when the drive has left already', async () => {
      await using studio = await Studio.open();
      await studio.record({ recorder: 'wheel', files: { 'CLIPS/A.MOV': 80 * MIB, 'CLIPS/B.XML': 5000 } });
      await studio.addDestination('primary');
      await studio.addDestination('backup');
      const service = await studio.start();
      const backup = studio.destination('backup');
      await service.until('both destinations are known', async () =>
        existsSync(join(backup, '.quayside-destination.json')) ? true : null,
      );
      await studio.pull('destination backup');
      await studio.plug('wheel');
      const source = await digestsBelow(studio.source('wheel'));
      const held = await verdictOf(service);
      expect(held.clearance.verdict).toBe('hold');
      await studio.pull('wheel');
      await studio.plug('destination backup', { at: backup, readOnly: false });
      await service.until('all is proven at the destination that came back', async () => {
        const path = `/v1/rolls/${held.id}`;
        const { destinations } = await service.get<{ destinations: Record<string, { sealedGeneration: number }> }>(
          path,
        );
        return destinations['backup']?.sealedGeneration === 1 ? true : null;
      });
      expect(await digestsBelow(folderOf(studio, 'backup', held))).toEqual(source);
      const [away] = await service.rolls();
      expect(away?.clearance.verdict).toBe('hold');
      await studio.plug('wheel', { at: join(studio.bay, 'another slot') });
      expect((await verdictOf(service)).clearance).toEqual(CLEAR);
    });
  },
);

async function verdictOf(service: Service): Promise<ShownRoll> {
  const roll = (await service.verdicts(1)).get('wheel');
  if (roll === undefined) throw new Error('The roll has no verdict.');
  return roll;
}
