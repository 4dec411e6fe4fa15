import { join } from 'node:path';
import { expect, it, describe } from 'vitest';
import { canMountDrives } from '../drives/can-mount-drives.ts';
import { flipByte } from '../drives/flip-byte.ts';
import { runTool } from '../drives/run-tool.ts';
import { runQuayside } from '../service/run-quayside.ts';
import type { Service, ShownRoll } from '../service/start-service.ts';
import { digestsBelow, Studio } from './studio.test-support.ts';

const ability = await canMountDrives();
const SHOOT = 'pottery-class';
const CLEAR = { verdict: 'clear', judgedAt: expect.any(String), cautions: [] };

describe.skipIf(!ability.ok)(
  `what an operator asks for again${ability.ok ? '' : ` (skipped: ${ability.reason})`}`,
  { timeout: 240_000 },
  () => {
    it('a shoot’s bad copy is made anew by a retry of one step at one destination, and a roll that Redis lost is had again by a rebuild', async () => {
      await using studio = await Studio.open();
      await studio.record({ recorder: 'wheel', files: { 'CLIPS/A.MOV': 3_000_000, 'CLIPS/B.XML': 5000 } });
      await studio.addDestination('primary');
      await studio.addDestination('backup');
      // A bad copy waits for a person.
      const service = await studio.start({ verify: { repairs: 0 } });
      const quayside = async (...words: readonly string[]): Promise<string> =>
        (await runQuayside(...words, '--config', service.configFile)).text;
      await service.post('/v1/shoots', { name: 'Pottery class' });
      await studio.plug('wheel');
      const source = await digestsBelow(studio.source('wheel'));
      const { id, clearance } = await restingRoll(service);
      expect(clearance).toEqual(CLEAR);

      const folder = join(studio.destination('backup'), SHOOT, 'wheel', id);
      await flipByte(join(folder, 'CLIPS/A.MOV'), 'first');
      expect(await runQuayside('verify', folder)).toMatchObject({ code: 1 });
      await service.post(`/v1/rolls/${id}/judge`);
      await service.until('the roll holds', async () =>
        (await restingRoll(service)).clearance.verdict === 'hold' ? true : null,
      );
      const { failures } = await service.get<{ failures: readonly { run: string }[] }>(`/v1/rolls/${id}`);
      expect(failures).toMatchObject([{ destination: 'backup', step: 'checksum' }]);
      expect(await quayside('retry', SHOOT, '--step', 'ingest')).toMatch(
        /^Nothing of shoot "pottery-class" has failed/,
      );
      const plan = await quayside('retry', SHOOT, '--step', 'checksum', '--destination', 'backup');
      expect(plan).toContain('something of 1 of its 1 rolls (2 copies of files, 3005000 bytes) is tried again.');
      await service.until('the roll is clear', async () =>
        (await restingRoll(service)).clearance.verdict === 'clear' ? true : null,
      );
      expect(await quayside('retry', failures[0]?.run ?? '')).toMatch(/^Nothing of run .* has failed/);
      const { entries } = await service.get<{ entries: readonly unknown[] }>('/v1/audit');
      expect(entries).toContainEqual(
        expect.objectContaining({
          action: `POST /v1/shoots/${SHOOT}/retry`,
          body: { step: 'checksum', destination: 'backup' },
          status: 202,
        }),
      );

      await studio.pull('wheel');
      await service.until('the drive has left', async () =>
        (await service.rolls())[0]?.drivePresent === false ? true : null,
      );
      expect(await quayside('rebuild')).toBe('1 roll is on record and 1 was in the view: they agree.\n');
      await loseRoll(service, id);
      expect(await service.rolls()).toEqual([]);
      const told = await quayside('rebuild', '--shoot', SHOOT);
      expect(told).toContain(`Roll ${id} of wheel is on record at primary and backup, and was not in the view.\n`);
      expect(told).toContain(
        '1 roll is on record and 0 were in the view: 1 differs, of which 1 was taken over from the records.',
      );
      expect((await service.rolls())[0]).toMatchObject({
        id,
        shootId: SHOOT,
        fileCount: 2,
        clearance: { verdict: 'hold', reasons: [{ code: 'VOLUME_AWAY' }] },
      });

      await studio.plug('wheel', { at: join(studio.bay, 'another slot') });
      const again = await service.until('the roll is judged again', async () => {
        const roll = await restingRoll(service);
        return roll.clearance.verdict === 'clear' ? roll : null;
      });
      expect(again).toMatchObject({ id, clearance: CLEAR });
      for (const name of ['primary', 'backup'])
        expect(await digestsBelow(join(studio.destination(name), SHOOT, 'wheel', id))).toEqual(source);
    });
  },
);

async function restingRoll(service: Service): Promise<ShownRoll> {
  const roll = (await service.verdicts(1)).get('wheel');
  if (roll === undefined) throw new Error('The roll has no verdict.');
  return roll;
}

/** Takes one roll out of Redis with all that lies beside it, and nothing else. */
async function loseRoll(service: Service, id: string): Promise<void> {
  const ask = (...words: readonly string[]): Promise<string> =>
    runTool('redis-cli', '-e', '-s', join(service.data, 'redis.sock'), ...words);
  const keys = (await ask('--scan', '--pattern', `quayside:*${id}*`)).split('\n').filter((key) => key !== '');
  await ask('del', ...keys);
  for (const hash of ['rolls', 'roll-volumes', 'roll-shoots']) await ask('hdel', `quayside:${hash}`, id);
  await ask('srem', 'quayside:asleep', id);
}
