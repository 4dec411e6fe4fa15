import { execFile } from 'node:child_process';
import { existsSync } from 'node:fs';
import { appendFile, readdir, rename, rm, stat, utimes } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { promisify } from 'node:util';
import { describe, expect, it } from 'vitest';
import { canMountDrives } from '../drives/can-mount-drives.ts';
import { flipByte } from '../drives/flip-byte.ts';
import { runQuayside } from '../service/run-quayside.ts';
import type { Service, ShownRoll } from '../service/start-service.ts';
import { digestsBelow, Studio } from './studio.test-support.ts';

const run = promisify(execFile);
const ability = await canMountDrives();
const MIB = 2 ** 20;

/** A studio with one camera drive of several clips of 1 MiB and two destinations, not yet plugged. */
async function studioWithWheel(clips: number): Promise<Studio> {
  const studio = await Studio.open();
  const files = Object.fromEntries(
    Array.from({ length: clips }, (_, index) => [`CLIPS/W001_C00${index + 1}.MOV`, MIB]),
  );
  await studio.record({ recorder: 'wheel', files });
  await studio.addDestination('primary');
  await studio.addDestination('backup');
  return studio;
}

describe.skipIf(!ability.ok)(
  `hard times${ability.ok ? '' : ` (skipped: ${ability.reason})`}`,
  { timeout: 240_000 },
  () => {
    it('two destinations on one device are one copy: the roll holds', async () => {
      await using studio = await Studio.open();
      await studio.record({ recorder: 'wheel', files: { 'CLIPS/A.MOV': MIB } });
      const device = await studio.addDestination('primary');
      await run('mkdir', ['-p', join(device, 'one'), join(device, 'two')]);
      const service = await studio.start({
        destinations: ['one', 'two'].map((name) => ({ name, path: join(device, name), keepFreeBytes: 0 })),
      });
      await studio.plug('wheel');
      const roll = (await service.verdicts(1)).get('wheel');
      expect(roll?.clearance).toMatchObject({ verdict: 'hold', reasons: [{ code: 'ONE_DEVICE' }] });
    });

    it('a destination that is full is contained: the other finishes, and the roll holds', async () => {
      await using studio = await Studio.open();
      await studio.record({ recorder: 'wheel', files: { 'CLIPS/A.MOV': 40 * MIB, 'CLIPS/B.MOV': 40 * MIB } });
      await studio.addDestination('primary');
      await studio.addDestination('backup', 64 * MIB);
      const service = await studio.start();
      await studio.plug('wheel');
      const roll = (await service.verdicts(1)).get('wheel');
      expect(roll?.clearance).toMatchObject({
        verdict: 'hold',
        reasons: expect.arrayContaining([expect.objectContaining({ code: 'DESTINATION_SKIPPED' })]),
      });
      expect(
        existsSync(join(studio.destination('primary'), roll?.shootId ?? '', 'wheel', roll?.id ?? '', 'CLIPS', 'B.MOV')),
      ).toBe(true);
      expect(
        existsSync(join(studio.destination('backup'), roll?.shootId ?? '', 'wheel', roll?.id ?? '', 'CLIPS', 'A.MOV')),
      ).toBe(false);
    });

    it('a destination that is not mounted is refused by name, and nothing is written under its path', async () => {
      await using studio = await studioWithWheel(1);
      const service = await studio.start();
      await studio.plug('wheel');
      await service.verdicts(1);
      await service.stop();
      await run('umount', [studio.destination('backup')]);
      await service.run();
      const roll = await service.until('the roll holds', async () => {
        const [now] = await service.rolls();
        return now?.activity === 'resting' && now.clearance.verdict === 'hold' ? now : null;
      });
      expect(roll.clearance).toMatchObject({
        reasons: expect.arrayContaining([
          expect.objectContaining({ code: 'DESTINATION_AWAY', sentence: expect.stringContaining('backup') }),
        ]),
      });
      expect(await readdir(studio.destination('backup'))).toEqual([]);
    });

    it('a copy that is gone, or a manifest that was altered, takes the verdict away when it is judged again', async () => {
      await using studio = await studioWithWheel(2);
      const service = await studio.start();
      await studio.plug('wheel');
      const roll = (await service.verdicts(1)).get('wheel');
      expect(roll?.clearance.verdict).toBe('clear');
      const folder = join(studio.destination('backup'), roll?.shootId ?? '', 'wheel', roll?.id ?? '');

      await rename(join(folder, 'CLIPS/W001_C002.MOV'), join(studio.destination('backup'), 'aside.mov'));
      expect(await codesAfterJudging(service)).toEqual(['COPY_GONE', 'TOO_FEW_COPIES']);

      await rename(join(studio.destination('backup'), 'aside.mov'), join(folder, 'CLIPS/W001_C002.MOV'));
      // Its bytes are back, but it was out of sight: it counts again when it has been read again.
      expect(await codesAfterRetry(service)).toEqual(['clear']);

      const [manifest = ''] = (await readdir(join(folder, 'ascmhl'))).filter((name) => name.endsWith('.mhl'));
      await appendFile(join(folder, 'ascmhl', manifest), ' ');
      expect(await codesAfterJudging(service)).toEqual(['MANIFEST_DAMAGED', 'TOO_FEW_COPIES']);
    });

    it('copies that are gone or edited are made again on a retry, those that verify found damaged by themselves, and the roll is clear again', async () => {
      await using studio = await studioWithWheel(3);
      const service = await studio.start();
      await studio.plug('wheel');
      const roll = (await service.verdicts(1)).get('wheel');
      const folder = join(studio.destination('backup'), roll?.shootId ?? '', 'wheel', roll?.id ?? '');

      await rm(join(folder, 'CLIPS/W001_C001.MOV'));
      expect(await codesAfterJudging(service)).toEqual(['COPY_GONE', 'TOO_FEW_COPIES']);
      expect(await codesAfterRetry(service)).toEqual(['clear']);

      await flipByte(join(folder, 'CLIPS/W001_C002.MOV'), 'last');
      expect(await codesAfterJudging(service)).toEqual(['COPY_GONE', 'TOO_FEW_COPIES']);
      // The retry reads it and finds the damage, and it is made anew.
      expect(await codesAfterRetry(service)).toEqual(['clear']);

      // Rot changes no times: only reading finds it.
      await flipLastByteUnseen(join(folder, 'CLIPS/W001_C003.MOV'));
      expect(await runQuayside('verify', folder)).toMatchObject({ code: 1 });
      expect(await codesAfterJudging(service)).toEqual(['clear']);

      // Every clip has a copy at each destination that an independent tool finds equal, whatever name it had to take.
      const source = await digestsBelow(studio.source('wheel'));
      const copies = new Set((await digestsBelow(folder)).values());
      for (const digest of source.values()) expect(copies).toContain(digest);
    });

    it('an unknown drive is shown and not copied until it is assigned', async () => {
      await using studio = await Studio.open();
      await studio.record({ recorder: 'guest', files: { 'CLIPS/A.MOV': MIB } });
      await studio.addDestination('primary');
      await studio.addDestination('backup');
      const service = await studio.start();
      await studio.plug('guest');
      const volume = await service.until('the drive has settled', async () => {
        const { volumes } = await service.get<{
          volumes: readonly { key: string; standing: string; recorder: string | null }[];
        }>('/v1/volumes');
        return volumes.find(({ standing }) => standing === 'settled') ?? null;
      });
      expect(volume.recorder).toBeNull();
      await wait(1500);
      expect(await service.rolls()).toEqual([]);
      await service.post(`/v1/volumes/${volume.key}/assign`, { recorder: 'kiln' });
      expect((await service.verdicts(1)).get('kiln')?.clearance.verdict).toBe('clear');
    });

    it('footage that is added after the verdict takes it away until it is proven too', async () => {
      await using studio = await studioWithWheel(1);
      const service = await studio.start();
      const mounted = await studio.plug('wheel', { readOnly: false });
      await service.verdicts(1);
      await run('cp', [join(mounted.path, 'CLIPS/W001_C001.MOV'), join(mounted.path, 'CLIPS/W001_C009.MOV')]);
      await service.until('the roll holds', async () =>
        (await service.rolls())[0]?.clearance.verdict === 'hold' ? true : null,
      );
      const roll = await service.until('it is clear again', async () => {
        const [now] = await service.rolls();
        return now?.activity === 'resting' && now.clearance.verdict === 'clear' ? now : null;
      });
      expect(roll.fileCount).toBe(2);
      const history = await readdir(join(studio.destination('primary'), roll.shootId, 'wheel', roll.id, 'ascmhl'));
      expect(history.filter((name) => name.endsWith('.mhl'))).toHaveLength(2);
    });
  },
);

/** Asks for a new verdict, waits for it, and gives the codes of its reasons, or `clear`. */
async function codesAfterJudging(service: Service): Promise<readonly string[]> {
  const [before] = await service.rolls();
  await service.post(`/v1/rolls/${before?.id}/judge`);
  return codesOfNewVerdict(service, before);
}

async function codesOfNewVerdict(service: Service, before: ShownRoll | undefined): Promise<readonly string[]> {
  const { clearance } = await service.until('there is a new verdict', async () => {
    const [roll] = await service.rolls();
    return roll?.activity === 'resting' && roll.clearance.judgedAt !== before?.clearance.judgedAt ? roll : null;
  });
  return clearance.verdict === 'clear' ? ['clear'] : clearance.reasons.map(({ code }) => code);
}

async function codesAfterRetry(service: Service): Promise<readonly string[]> {
  const [before] = await service.rolls();
  await service.post(`/v1/rolls/${before?.id}/retry`);
  return codesOfNewVerdict(service, before);
}

async function flipLastByteUnseen(path: string): Promise<void> {
  const { atime, mtime } = await stat(path);
  await flipByte(path, 'last');
  await utimes(path, atime, mtime);
}
