import { execFile } from 'node:child_process';
import { existsSync } from 'node:fs';
import { appendFile, readdir, rename, rm, stat, utimes } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { canMountDrives } from '../drives/can-mount-drives.ts';
import { flipByte } from '../drives/flip-byte.ts';
import { runQuayside } from '../service/run-quayside.ts';
import type { MountedDrive } from '../drives/mount-drive.ts';
import type { ShownRoll } from '../service/start-service.ts';
import { digestsBelow, Studio } from './studio.test-support.ts';

const run = promisify(execFile);
const ability = await canMountDrives();
const MIB = 2 ** 20;

describe.skipIf(!ability.ok)(
  `hard times${ability.ok ? '' : ` (skipped: ${ability.reason})`}`,
  { timeout: 240_000 },
  () => {
    // One service for all but the last two, each with a recorder of its own.
    let studio: Studio;
    beforeAll(async () => {
      studio = await Studio.open();
      await studio.addDestination('primary');
      await studio.addDestination('backup');
      await studio.start();
    }, 240_000);
    afterAll(() => studio?.[Symbol.asyncDispose]());

    it('a copy that is gone, or a manifest that was altered, takes the verdict away when it is judged again', async () => {
      const { folder, clearance } = await takenIn('hands', 2);
      expect(clearance.verdict).toBe('clear');

      await rename(join(folder, 'CLIPS/W001_C002.MOV'), join(studio.destination('backup'), 'aside.mov'));
      expect(await codesAfter('judge', 'hands')).toEqual(['COPY_GONE', 'TOO_FEW_COPIES']);

      await rename(join(studio.destination('backup'), 'aside.mov'), join(folder, 'CLIPS/W001_C002.MOV'));
      // Its bytes are back, but it was out of sight: it counts again when it has been read again.
      expect(await codesAfter('retry', 'hands')).toEqual(['clear']);

      const [manifest = ''] = (await readdir(join(folder, 'ascmhl'))).filter((name) => name.endsWith('.mhl'));
      await appendFile(join(folder, 'ascmhl', manifest), ' ');
      expect(await codesAfter('judge', 'hands')).toEqual(['MANIFEST_DAMAGED', 'TOO_FEW_COPIES']);
    });

    it('copies that are gone or edited are made again on a retry, those that verify found damaged by themselves, and the roll is clear again', async () => {
      const { folder } = await takenIn('wheel', 3);

      await rm(join(folder, 'CLIPS/W001_C001.MOV'));
      expect(await codesAfter('judge', 'wheel')).toEqual(['COPY_GONE', 'TOO_FEW_COPIES']);
      expect(await codesAfter('retry', 'wheel')).toEqual(['clear']);

      await flipByte(join(folder, 'CLIPS/W001_C002.MOV'), 'last');
      expect(await codesAfter('judge', 'wheel')).toEqual(['COPY_GONE', 'TOO_FEW_COPIES']);
      // The retry reads it and finds the damage, and it is made anew.
      expect(await codesAfter('retry', 'wheel')).toEqual(['clear']);

      // Rot changes no times: only reading finds it.
      await flipLastByteUnseen(join(folder, 'CLIPS/W001_C003.MOV'));
      expect(await runQuayside('verify', folder)).toMatchObject({ code: 1 });
      expect(await codesAfter('judge', 'wheel')).toEqual(['clear']);

      // Every clip has a copy at each destination that an independent tool finds equal, whatever name it had to take.
      const source = await digestsBelow(studio.source('wheel'));
      const copies = new Set((await digestsBelow(folder)).values());
      for (const digest of source.values()) expect(copies).toContain(digest);
    });

    it('an unknown drive is shown and not copied until it is assigned', async () => {
      const { service } = studio;
      const before = await service.rolls();
      await studio.record({ recorder: 'guest', files: { 'CLIPS/A.MOV': MIB } });
      const { path } = await studio.plug('guest');
      const volume = await service.until('the drive has settled', async () => {
        const { volumes } = await service.get<{
          volumes: readonly { key: string; mountPath: string | null; standing: string; recorder: string | null }[];
        }>('/v1/volumes');
        return volumes.find(({ mountPath, standing }) => mountPath === path && standing === 'settled') ?? null;
      });
      expect(volume.recorder).toBeNull();
      await wait(1500);
      expect((await service.rolls()).map(({ id }) => id)).toEqual(before.map(({ id }) => id));
      await service.post(`/v1/volumes/${volume.key}/assign`, { recorder: 'desk' });
      expect(await studio.restingRolls('desk', 1)).toMatchObject([{ clearance: { verdict: 'clear' } }]);
    });

    it('footage that is added after the verdict takes it away until it is proven too', async () => {
      const { mounted } = await takenIn('kiln', 1, { readOnly: false });
      await run('cp', [join(mounted.path, 'CLIPS/W001_C001.MOV'), join(mounted.path, 'CLIPS/W001_C009.MOV')]);
      await studio.service.until('the roll holds', async () =>
        (await studio.rollsOf('kiln'))[0]?.clearance.verdict === 'hold' ? true : null,
      );
      const roll = await studio.service.until('it is clear again', async () => {
        const [now] = await studio.rollsOf('kiln');
        return now?.activity === 'resting' && now.clearance.verdict === 'clear' ? now : null;
      });
      expect(roll.fileCount).toBe(2);
      const history = await readdir(join(studio.destination('primary'), roll.shootId, 'kiln', roll.id, 'ascmhl'));
      expect(history.filter((name) => name.endsWith('.mhl'))).toHaveLength(2);
    });

    // The last of them, since the destination stays away.
    it('a destination that is not mounted is refused by name, and nothing is written under its path', async () => {
      await takenIn('wide', 1);
      await studio.service.stop();
      await run('umount', [studio.destination('backup')]);
      await studio.service.run();
      const roll = await studio.service.until('the roll holds', async () => {
        const [now] = await studio.rollsOf('wide');
        return now?.activity === 'resting' && now.clearance.verdict === 'hold' ? now : null;
      });
      expect(roll.clearance).toMatchObject({
        reasons: expect.arrayContaining([
          expect.objectContaining({ code: 'DESTINATION_AWAY', sentence: expect.stringContaining('backup') }),
        ]),
      });
      expect(await readdir(studio.destination('backup'))).toEqual([]);
    });

    it('two destinations on one device are one copy: the roll holds', async () => {
      await using own = await Studio.open();
      await own.record({ recorder: 'wheel', files: { 'CLIPS/A.MOV': MIB } });
      const device = await own.addDestination('primary');
      await run('mkdir', ['-p', join(device, 'one'), join(device, 'two')]);
      const service = await own.start({
        destinations: ['one', 'two'].map((name) => ({ name, path: join(device, name), keepFreeBytes: 0 })),
      });
      await own.plug('wheel');
      const roll = (await service.verdicts(1)).get('wheel');
      expect(roll?.clearance).toMatchObject({ verdict: 'hold', reasons: [{ code: 'ONE_DEVICE' }] });
    });

    it('a destination that is full is contained: the other finishes, and the roll holds', async () => {
      await using own = await Studio.open();
      await own.record({ recorder: 'wheel', files: { 'CLIPS/A.MOV': 40 * MIB, 'CLIPS/B.MOV': 40 * MIB } });
      await own.addDestination('primary');
      await own.addDestination('backup', 64 * MIB);
      const service = await own.start();
      await own.plug('wheel');
      const roll = (await service.verdicts(1)).get('wheel');
      expect(roll?.clearance).toMatchObject({
        verdict: 'hold',
        reasons: expect.arrayContaining([expect.objectContaining({ code: 'DESTINATION_SKIPPED' })]),
      });
      expect(
        existsSync(join(own.destination('primary'), roll?.shootId ?? '', 'wheel', roll?.id ?? '', 'CLIPS', 'B.MOV')),
      ).toBe(true);
      expect(
        existsSync(join(own.destination('backup'), roll?.shootId ?? '', 'wheel', roll?.id ?? '', 'CLIPS', 'A.MOV')),
      ).toBe(false);
    });

    /** Takes in a drive of so many clips of 1 MiB, and gives its roll with its folder at the backup. */
    async function takenIn(
      recorder: string,
      clips: number,
      manner: { readonly readOnly?: boolean } = {},
    ): Promise<ShownRoll & { readonly folder: string; readonly mounted: MountedDrive }> {
      const paths = Array.from({ length: clips }, (_, index) => `CLIPS/W001_C00${index + 1}.MOV`);
      await studio.record({ recorder, files: Object.fromEntries(paths.map((path) => [path, MIB])) });
      const mounted = await studio.plug(recorder, manner);
      const [roll] = await studio.restingRolls(recorder, 1);
      if (roll === undefined) throw new Error(`${recorder} has no roll.`);
      return { ...roll, mounted, folder: join(studio.destination('backup'), roll.shootId, recorder, roll.id) };
    }

    /** Asks for a new verdict or a retry, waits for what comes of it, and gives the codes of its reasons, or `clear`. */
    async function codesAfter(action: 'judge' | 'retry', recorder: string): Promise<readonly string[]> {
      const [before] = await studio.rollsOf(recorder);
      await studio.service.post(`/v1/rolls/${before?.id}/${action}`);
      const { clearance } = await studio.service.until('there is a new verdict', async () => {
        const [roll] = await studio.rollsOf(recorder);
        return roll?.activity === 'resting' && roll.clearance.judgedAt !== before?.clearance.judgedAt ? roll : null;
      });
      return clearance.verdict === 'clear' ? ['clear'] : clearance.reasons.map(({ code }) => code);
    }
  },
);

async function flipLastByteUnseen(path: string): Promise<void> {
  const { atime, mtime } = await stat(path);
  await flipByte(path, 'last');
  await utimes(path, atime, mtime);
}
