import { execFile } from 'node:child_process';
import { symlink } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { canMountDrives } from '../drives/can-mount-drives.ts';
import { makeDrive } from '../drives/make-drive.ts';
import { mountDrive, unmountDrive } from '../drives/mount-drive.ts';
import { digestsBelow, Studio } from './studio.test-support.ts';

const run = promisify(execFile);
const ability = await canMountDrives();

interface ShownVolume {
  readonly mountPath: string | null;
  readonly standing: string;
  readonly litterCount: number;
}

describe.skipIf(!ability.ok)(
  `odd volumes${ability.ok ? '' : ` (skipped: ${ability.reason})`}`,
  { timeout: 240_000 },
  () => {
    // One service for all of them, each with a recorder of its own.
    let studio: Studio;
    beforeAll(async () => {
      studio = await Studio.open();
      await studio.addDestination('primary');
      await studio.addDestination('backup');
      await studio.start();
    }, 240_000);
    afterAll(() => studio?.[Symbol.asyncDispose]());

    it('takes names of every kind, leaves litter out and counts it, and tells of links and pipes', async () => {
      const names = [
        'Töpfern/Scheibe Nº1.mov',
        '陶芸/轆轤.mov',
        'فخار.mov',
        'caf\u00e9.mov',
        'cafe\u0301.mov',
        'Clip.mov',
        'clip.MOV',
        `${'x'.repeat(251)}.mov`,
        'two\nlines.mov',
        'tab\there.mov',
        ' leading and trailing ',
        '100%.mov',
        '%0A.mov',
        'question?.mov',
        'quote\'"<&>.mov',
        'empty.mov',
      ];
      const files = Object.fromEntries(names.map((name, index) => [name, name === 'empty.mov' ? '' : `take ${index}`]));
      const litter = { '.Trashes/1': 'x', '.DS_Store': 'x', 'System Volume Information/y': 'x', '._clip.MOV': 'x' };
      await studio.record({ recorder: 'wheel', files: { ...files, ...litter } });
      await onDrive(studio, 'wheel', async (path) => {
        await symlink('/etc/passwd', join(path, 'link.mov'));
        await run('mkfifo', [join(path, 'pipe.mov')]);
      });
      await studio.plug('wheel');
      const [roll] = await studio.restingRolls('wheel', 1);
      expect(roll?.clearance).toMatchObject({ verdict: 'clear' });
      expect(roll?.fileCount).toBe(names.length);
      expect((await volumeIn(studio.source('wheel')))?.litterCount).toBeGreaterThanOrEqual(4);
      const { findings } = await studio.service.get<{
        findings: readonly { code: string; subject: { path?: string } }[];
      }>('/v1/findings');
      const specials = findings
        .filter(({ code }) => code === 'SPECIAL_FILE')
        .map(({ subject }) => String(subject.path));
      expect(new Set(specials)).toEqual(new Set(['link.mov', 'pipe.mov']));
      // Every content is there once at each destination, whatever name it could keep. md5sum is GNU coreutils'.
      const source = await digestsBelow(studio.source('wheel'));
      const wanted = names.map((name) => String(source.get(name))).toSorted(inOrder);
      for (const destination of ['primary', 'backup']) {
        const copies = await digestsBelow(
          join(studio.destination(destination), roll?.shootId ?? '', 'wheel', roll?.id ?? ''),
        );
        expect([...copies.values()].toSorted(inOrder)).toEqual(wanted);
      }
    });

    it('tells two drives of one label apart, and keeps their rolls apart', async () => {
      await studio.record({ recorder: 'hands', files: { 'A.MOV': 'first' } });
      const second = await makeDrive({
        image: join(studio.folder, 'second.image'),
        fileSystem: 'ext4',
        label: 'HANDS',
        sizeInBytes: 2 ** 26,
      });
      const slot = await mountDrive(second, join(studio.bay, 'second'));
      try {
        await run('sh', ['-c', 'printf second > "$1/A.MOV"', 'sh', slot.path]);
        await studio.plug('hands');
        const rolls = await studio.restingRolls('hands', 2);
        expect(rolls.map(({ clearance }) => clearance.verdict)).toEqual(['clear', 'clear']);
        expect(new Set(rolls.map(({ id }) => id)).size).toBe(2);
      } finally {
        await unmountDrive(slot);
      }
    });

    it('shows an empty drive as empty, and makes no roll of it', async () => {
      await studio.record({ recorder: 'desk' });
      await studio.plug('desk');
      await studio.service.until('it is shown', async () =>
        (await volumeIn(studio.source('desk')))?.standing === 'empty' ? true : null,
      );
      await wait(500);
      expect(await studio.rollsOf('desk')).toEqual([]);
    });

    it('takes a left-over empty folder in the bay for no drive', async () => {
      await run('mkdir', ['-p', join(studio.bay, 'WIDE')]);
      await wait(1500);
      expect(await volumeIn(join(studio.bay, 'WIDE'))).toBeNull();
    });

    it('writes nothing to a destination that lies on the drive itself, and says why', async () => {
      // With a service of its own, whose configuration says so.
      await using own = await Studio.open();
      await own.record({ recorder: 'wheel', files: { 'A.MOV': 'take 1' } });
      await own.addDestination('primary');
      const inside = join(own.source('wheel'), 'copies');
      await onDrive(own, 'wheel', (path) => run('mkdir', [join(path, 'copies')]).then(() => {}));
      await own.start({
        destinations: [
          { name: 'primary', path: own.destination('primary'), keepFreeBytes: 0 },
          { name: 'inside', path: inside, keepFreeBytes: 0 },
        ],
      });
      await own.plug('wheel', { readOnly: false });
      const roll = (await own.service.verdicts(1)).get('wheel');
      expect(roll?.clearance).toMatchObject({
        verdict: 'hold',
        reasons: expect.arrayContaining([expect.objectContaining({ destination: 'inside' })]),
      });
      const { findings } = await own.service.get<{ findings: readonly { code: string }[] }>('/v1/findings');
      expect(findings.map(({ code }) => code)).toContain('DESTINATION_INSIDE_SOURCE');
      expect(await digestsBelow(inside)).toEqual(new Map());
    });

    it('opens a new roll for a drive that was formatted, also under the same label and with the same names', async () => {
      await studio.record({ recorder: 'kiln', files: { 'A.MOV': 'first day' } });
      await studio.plug('kiln');
      const [first] = await studio.restingRolls('kiln', 1);
      await studio.pull('kiln');
      await studio.record({ recorder: 'kiln', files: { 'A.MOV': 'second day' } });
      await studio.plug('kiln');
      const rolls = await studio.restingRolls('kiln', 2);
      expect(rolls.map(({ clearance }) => clearance.verdict)).toEqual(['clear', 'clear']);
      for (const [roll, content] of [
        [first, 'first day'],
        [rolls.find(({ id }) => id !== first?.id), 'second day'],
      ] as const) {
        const { stdout } = await run('cat', [
          join(studio.destination('primary'), roll?.shootId ?? '', 'kiln', roll?.id ?? '', 'A.MOV'),
        ]);
        expect(stdout).toBe(content);
      }
    });

    async function volumeIn(path: string): Promise<ShownVolume | null> {
      const { volumes } = await studio.service.get<{ volumes: readonly ShownVolume[] }>('/v1/volumes');
      return volumes.find(({ mountPath }) => mountPath === path) ?? null;
    }
  },
);

async function onDrive(studio: Studio, recorder: string, work: (path: string) => Promise<void>): Promise<void> {
  const mounted = await studio.plug(recorder, { at: join(studio.folder, 'elsewhere'), readOnly: false });
  await work(mounted.path);
  await unmountDrive(mounted);
}

function inOrder(a: string, b: string): number {
  return a < b ? -1 : Number(a > b);
}
