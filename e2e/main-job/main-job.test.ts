import { execFile } from 'node:child_process';
import { existsSync } from 'node:fs';
import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { canMountDrives } from '../drives/can-mount-drives.ts';
import { makePotteryClass, type Recording } from '../media/make-pottery-class.ts';
import { runQuayside } from '../service/run-quayside.ts';
import type { ShownRoll } from '../service/start-service.ts';
import { hashesListed } from './hashes-listed.test-support.ts';
import { digestsBelow, Studio } from './studio.test-support.ts';

const run = promisify(execFile);
const ability = await canMountDrives();
const SCHEMA = fileURLToPath(new URL('../../packages/hash-lists/fixtures/xsd/', import.meta.url));

describe.skipIf(!ability.ok)(
  `the main job on real drives${ability.ok ? '' : ` (skipped: ${ability.reason})`}`,
  { timeout: 240_000 },
  () => {
    let studio: Studio;
    let recordings: readonly Recording[];
    let rolls: ReadonlyMap<string, ShownRoll>;
    const sourcesBefore = new Map<string, ReadonlyMap<string, string>>();

    beforeAll(async () => {
      studio = await Studio.open();
      recordings = await makePotteryClass(join(studio.folder, 'class'), { clipsPerRecorder: 2, secondsPerClip: 2 });
      for (const [index, recording] of recordings.entries()) {
        await studio.record({
          recorder: recording.name,
          from: recording.folder,
          fileSystem: ability.exfat && index % 2 === 0 ? 'exfat' : 'ext4',
        });
      }
      await studio.addDestination('primary');
      await studio.addDestination('backup');
      await studio.start({ hashes: ['xxh128', 'md5', 'sha1'] });
      await Promise.all(recordings.map(({ name }) => studio.plug(name)));
      for (const { name } of recordings) sourcesBefore.set(name, await digestsBelow(studio.source(name)));
      rolls = await studio.service.verdicts(5);
    }, 240_000);
    afterAll(async () => studio[Symbol.asyncDispose]());

    it('clears all five drives', () => {
      expect([...rolls].map(([name, roll]) => [name, roll.clearance])).toEqual(
        [...rolls.keys()].map((name) => [name, { verdict: 'clear', judgedAt: expect.any(String), cautions: [] }]),
      );
      expect([...rolls.keys()].toSorted()).toEqual(['desk', 'hands', 'kiln', 'wheel', 'wide']);
    });

    it.each(['primary', 'backup'])('has every byte at %s, as an independent tool reads it', async (destination) => {
      for (const [name, roll] of rolls) {
        const folder = join(studio.destination(destination), roll.shootId, name, roll.id);
        expect(await digestsBelow(folder), `${name} at ${destination}`).toEqual(sourcesBefore.get(name));
      }
    });

    it('keeps the times of the files', async () => {
      const [recording] = recordings;
      const roll = rolls.get(recording?.name ?? '');
      for (const { path } of recording?.files ?? []) {
        const source = await stat(join(studio.source(recording?.name ?? ''), path));
        const copy = await stat(
          join(studio.destination('primary'), roll?.shootId ?? '', roll?.recorder ?? '', roll?.id ?? '', path),
        );
        expect(Math.abs(copy.mtimeMs - source.mtimeMs)).toBeLessThan(1);
      }
    });

    // The schemas are the ones that the ASC publishes with the standard (see fixtures/README there); xmllint is libxml2's.
    it.skipIf(!hasTool('xmllint'))(
      'writes manifests and chains that validate against the published schemas',
      async () => {
        for (const folder of rollFolders()) {
          const history = join(folder, 'ascmhl');
          const names = await readdir(history);
          const manifests = names.filter((name) => name.endsWith('.mhl'));
          expect(manifests).toHaveLength(1);
          for (const name of manifests) await validate('ASCMHL.repo-409a833.xsd', join(history, name));
          await validate('ASCMHLDirectory.repo-6c78c6c.xsd', join(history, 'ascmhl_chain.xml'));
        }
      },
    );

    // md5sum and sha1sum are GNU coreutils', xxhsum is the xxHash project's own.
    it.skipIf(!hasTool('xmllint') || !hasTool('xxhsum'))(
      'writes hashes into the manifests that independent tools agree with',
      async () => {
        for (const folder of rollFolders()) {
          const [name] = (await readdir(join(folder, 'ascmhl'))).filter((entry) => entry.endsWith('.mhl'));
          const listed = await hashesListed(join(folder, 'ascmhl', name ?? ''), ['xxh128', 'md5', 'sha1']);
          const by = (kind: 'md5' | 'sha1'): Map<string, string> =>
            new Map([...listed].map(([path, digests]) => [path, digests[kind]]));
          expect(by('md5')).toEqual(await digestsBelow(folder, 'md5sum'));
          expect(by('sha1')).toEqual(await digestsBelow(folder, 'sha1sum'));
          for (const [path, { xxh128 }] of listed) {
            const { stdout } = await run('xxhsum', ['-H2', join(folder, path)]);
            expect(`${path} ${xxh128}`).toBe(`${path} ${stdout.trim().split(' ')[0]}`);
          }
        }
      },
    );

    it('has changed nothing on the sources', async () => {
      for (const { name } of recordings)
        expect(await digestsBelow(studio.source(name))).toEqual(sourcesBefore.get(name));
    });

    it('tells the story of each roll in order', async () => {
      const events = await studio.service.events();
      for (const roll of rolls.values()) {
        const told = events.filter((event) => event.subject === roll.id).map((event) => event.type);
        expect(told[0]).toBe('roll.listed');
        expect(told.at(-1)).toBe('roll.clear');
        expect(told.filter((type) => type === 'roll.clear')).toHaveLength(1);
      }
    });

    it('is verified by the command without the service', async () => {
      const [folder = ''] = rollFolders();
      expect(await runQuayside('verify', folder, '--no-record', '--json')).toMatchObject({
        code: 0,
        text: expect.stringContaining('verified'),
      });
    });

    it('copies a roll that is offered again no second time, and clears it again', async () => {
      const { service } = studio;
      const before = await stat(join(rollFolders()[0] ?? '', 'ascmhl'));
      await studio.pull('wheel');
      await service.until('the drive is away', async () =>
        (await service.rolls()).some(({ recorder, drivePresent }) => recorder === 'wheel' && !drivePresent)
          ? true
          : null,
      );
      await studio.plug('wheel', { at: join(studio.bay, 'another place') });
      const again = await service.until('wheel is clear again', async () => {
        const roll = (await service.rolls()).find(({ recorder }) => recorder === 'wheel');
        return roll?.activity === 'resting' &&
          roll.clearance.verdict === 'clear' &&
          roll.clearance.judgedAt !== rolls.get('wheel')?.clearance.judgedAt
          ? roll
          : null;
      });
      expect(again.id).toBe(rolls.get('wheel')?.id);
      expect((await stat(join(rollFolders()[0] ?? '', 'ascmhl'))).mtimeMs).toBe(before.mtimeMs);
    });

    function rollFolders(): readonly string[] {
      return [...rolls.values()].flatMap((roll) =>
        ['primary', 'backup'].map((name) => join(studio.destination(name), roll.shootId, roll.recorder, roll.id)),
      );
    }
  },
);

/** Throws xmllint's words unless the file is valid. The catalogue gives the schemas' imports, so that nothing is fetched. */
async function validate(schema: string, file: string): Promise<void> {
  const env = { ...process.env, XML_CATALOG_FILES: join(SCHEMA, 'catalog.xml') };
  await run('xmllint', ['--noout', '--nonet', '--schema', join(SCHEMA, schema), file], { env });
}

function hasTool(name: string): boolean {
  return (process.env['PATH'] ?? '').split(':').some((folder) => existsSync(join(folder, name)));
}
