import { execFile } from 'node:child_process';
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import type { Clearance } from '@quayside/shoot';
import { describe, expect, it } from 'vitest';
import { flipBit } from '../bay/flip-bit.ts';
import { canMountDrives } from '../drives/can-mount-drives.ts';
import { runTool } from '../drives/run-tool.ts';
import { type CommandOutcome, runQuayside } from '../service/run-quayside.ts';
import type { Service, ShownRoll } from '../service/start-service.ts';
import { digestsBelow, Studio } from './studio.test-support.ts';

const run = promisify(execFile);
const ability = await canMountDrives();
const MIB = 2 ** 20;
const SCHEMA = fileURLToPath(new URL('../../packages/hash-lists/fixtures/xsd/', import.meta.url));
const hasXmllint = await run('xmllint', ['--version']).then(
  () => true,
  () => false,
);

interface Detail {
  readonly clearance: Clearance;
  readonly findings: readonly {
    readonly code: string;
    readonly subject: { readonly id: string; readonly path?: string };
  }[];
  readonly destinations: Readonly<
    Record<string, { readonly readBackAt: string; readonly reread: { readonly since: string } | null }>
  >;
}

describe.skipIf(!ability.ok)(`rot${ability.ok ? '' : ` (skipped: ${ability.reason})`}`, { timeout: 240_000 }, () => {
  it('in a copy whose drive was formatted long ago is found by reading it again, made anew from the other copy, and put on record', async () => {
    await using studio = await Studio.open();
    const files = { 'CLIPS/A.MOV': 80 * MIB, 'CLIPS/B.MOV': 3 * MIB, 'INDEX.XML': 5000 };
    await studio.record({ recorder: 'wheel', files });
    await studio.addDestination('primary');
    await studio.addDestination('backup');
    const service = await studio.start({ verify: { everyDays: null } });
    await studio.plug('wheel');
    const source = await digestsBelow(studio.source('wheel'));
    const clear = await verdictOf(service);
    await studio.pull('wheel');
    await service.until('the drive is gone', async () =>
      (await service.rolls())[0]?.drivePresent === false ? true : null,
    );

    const place = (name: string): string => join(studio.destination(name), clear.shootId, 'wheel', clear.id);
    const device = await runTool('findmnt', '--noheadings', '--output', 'SOURCE', studio.destination('backup'));
    await flipBit(join(place('backup'), 'CLIPS/A.MOV'), device, { at: 70 * MIB + 11 });
    expect(await digestsBelow(place('backup'))).not.toEqual(source);

    const found = await quayside(service, 'verify', '--shoot', clear.shootId);
    expect(found).toMatchObject({
      code: 1,
      text: expect.stringContaining(`${clear.id} at backup: 1 file, made anew and proven`),
    });
    expect(found.text).toContain('1 roll, 6 files,');
    const [after] = await service.until('it is clear again', async () => {
      const rolls = await service.rolls();
      return rolls[0]?.clearance.verdict === 'clear' ? rolls : null;
    });
    expect(after?.clearance).toEqual({
      verdict: 'clear',
      judgedAt: clear.clearance.judgedAt,
      cautions: [expect.stringContaining('made anew and proven')],
    });
    for (const name of ['primary', 'backup']) expect(await digestsBelow(place(name))).toEqual(source);
    const aside = join(studio.destination('backup'), '.quayside/set-aside', clear.id);
    expect([...(await digestsBelow(aside)).keys()]).toEqual(['CLIPS/A.MOV']);

    const { findings } = await detailOf(service, clear.id);
    const subject = { kind: 'clip', id: `${clear.id}@backup`, path: 'CLIPS/A.MOV' };
    expect(findings).toContainEqual(expect.objectContaining({ code: 'CHECKSUM_MISMATCH', subject }));
    expect(service.log.join('\n')).toContain(`A copy of roll ${clear.id} was proven and is bad`);

    const ofA = await actionsOf(place('backup'), 'CLIPS/A.MOV');
    expect(ofA.slice(0, 2)).toEqual(['original', 'failed']);
    expect(ofA.at(-1)).toBe('verified');
    expect(await actionsOf(place('backup'), 'INDEX.XML')).toEqual(['original', 'verified']);
    expect(await actionsOf(place('primary'), 'CLIPS/A.MOV')).toEqual(['original', 'verified']);

    // A pass that finds nothing adds a generation all the same, asked for or by itself.
    const before = await manifestsOf(place('primary'));
    expect(await quayside(service, 'verify', '--destination', 'primary')).toMatchObject({ code: 0 });
    expect(await manifestsOf(place('primary'))).toHaveLength(before.length + 1);
    if (hasXmllint)
      for (const name of ['primary', 'backup']) for (const file of await manifestsOf(place(name))) await validate(file);

    await service.stop();
    const [known, second] = [await manifestsOf(place('primary')), 1 / 86_400];
    const restarted = await studio.start({ verify: { everyDays: second } });
    await restarted.until('everything has been read again by itself', async () => {
      const now = await manifestsOf(place('primary'));
      return now.length > known.length ? true : null;
    });
  });
});

async function verdictOf(service: Service): Promise<ShownRoll> {
  const roll = (await service.verdicts(1)).get('wheel');
  if (roll?.clearance.verdict !== 'clear') throw new Error(`The roll is not clear: ${JSON.stringify(roll?.clearance)}`);
  return roll;
}

function detailOf(service: Service, id: string): Promise<Detail> {
  return service.get<Detail>(`/v1/rolls/${id}`);
}

async function quayside({ configFile }: Service, ...words: readonly string[]): Promise<CommandOutcome> {
  return runQuayside(...words, '--config', configFile);
}

async function manifestsOf(folder: string): Promise<readonly string[]> {
  const names = await readdir(join(folder, 'ascmhl'));
  return names
    .filter((name) => name.endsWith('.mhl'))
    .toSorted()
    .map((name) => join(folder, 'ascmhl', name));
}

/** What each generation that lists the file says of it, oldest first, as xmllint reads it; nothing where there is no xmllint. */
async function actionsOf(folder: string, path: string): Promise<readonly string[]> {
  const said: string[] = [];
  for (const file of await manifestsOf(folder)) {
    const query = `string(//*[local-name()="hash"][*[local-name()="path"]="${path}"]/*[local-name()="xxh128"]/@action)`;
    const { stdout } = await run('xmllint', ['--xpath', query, file]);
    if (stdout.trim() !== '') said.push(stdout.trim());
  }
  return said;
}

/** Against the schema that the ASC publishes with the standard; xmllint is libxml2's. */
async function validate(file: string): Promise<void> {
  const env = { ...process.env, XML_CATALOG_FILES: join(SCHEMA, 'catalog.xml') };
  await run('xmllint', ['--noout', '--nonet', '--schema', join(SCHEMA, 'ASCMHL.repo-409a833.xsd'), file], { env });
}
