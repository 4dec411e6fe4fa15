import { readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { canMountDrives } from '../drives/can-mount-drives.ts';
import { unmountDrive } from '../drives/mount-drive.ts';
import { digestsBelow, Studio } from '../main-job/studio.test-support.ts';

const ability = await canMountDrives();

interface Runs {
  readonly runs: readonly {
    readonly id: string;
    readonly step: string;
    readonly state: string;
    readonly subject: { readonly id: string };
    readonly failure: { readonly code: string } | null;
    readonly filed: { readonly destination: string; readonly folder: string } | null;
  }[];
}

/** Reads its clip, writes a file, reports a finding; a second step sums the first one's outputs up. */
const GOOD = `import { definePlugin, defineStep } from '@quayside/step-sdk';
import { readFileSync, writeFileSync } from 'node:fs';
const number = { '~standard': { version: 1, vendor: 'test', validate: (value: unknown) => typeof value === 'number'
  ? { value } : { issues: [{ message: 'not a number' }] } } } as const;
const count = defineStep({
  name: 'count', scope: 'clip', output: number as never, after: ['probe'],
  async run({ subject, copies, outputFolder, report, log }) {
    const { length } = readFileSync(copies.of(subject.clip));
    writeFileSync(outputFolder + '/length.txt', String(length));
    log.info('counted');
    report.finding({ code: 'COUNTED', severity: 'info', sentence: subject.clip.path + ' is counted.', remedy: 'Nothing.' });
    return length as never;
  },
});
const sum = defineStep({
  name: 'sum', scope: 'roll', output: number as never, after: [count, 'clearance'],
  run: async ({ outputs }) => Object.values(outputs.count as object).reduce((total, one) => total + one, 0) as never,
});
export default definePlugin({ apiVersion: 1, name: 'good', version: '1', steps: [count, sum] });
`;

/** Tries all it can on the footage and the service, then loops for ever. */
const HOSTILE = `import { definePlugin, defineStep } from '@quayside/step-sdk';
import fs from 'node:fs';
const spoil = defineStep({
  name: 'spoil', scope: 'roll', limits: { seconds: 1 },
  async run({ subject, copies }) {
    for (const clip of subject.clips) {
      for (const act of [
        () => fs.writeFileSync(copies.of(clip), 'HACK'),
        () => fs.rmSync(copies.of(clip)),
        () => fs.writeFileSync(copies.folderOf(subject.roll) + '/../../records/rolls/forged.json', '{}'),
        () => process.kill(process.ppid, 'SIGKILL'),
      ]) { try { act(); } catch {} }
    }
    for (;;);
  },
});
export default definePlugin({ apiVersion: 1, name: 'hostile', version: '1', steps: [spoil] });
`;

/** Does nothing until it is told to stop. */
const PATIENT = `import { definePlugin, defineStep } from '@quayside/step-sdk';
const wait = defineStep({
  name: 'wait', scope: 'roll',
  run: ({ signal }) => new Promise((go) => signal.addEventListener('abort', () => go())),
});
export default definePlugin({ apiVersion: 1, name: 'patient', version: '1', steps: [wait] });
`;

describe.skipIf(!ability.ok)(
  `a service with a good and a hostile plugin${ability.ok ? '' : ` (skipped: ${ability.reason})`}`,
  { timeout: 180_000 },
  () => {
    let studio: Studio;
    beforeAll(async () => {
      studio = await Studio.open();
      await writeFile(join(studio.folder, 'good.ts'), GOOD);
      await writeFile(join(studio.folder, 'hostile.ts'), HOSTILE);
      await writeFile(join(studio.folder, 'patient.ts'), PATIENT);
      await writeFile(join(studio.folder, 'broken.ts'), 'this is no module');
      for (const name of ['primary', 'backup']) await studio.addDestination(name);
      await studio.start({
        plugins: ['good', 'hostile', 'patient', 'broken'].map((name) => ({ use: `./${name}.ts` })),
      });
      const files = { 'CLIPS/a.mov': 100_000, 'CLIPS/b.mov': 50_000 };
      await studio.record({ recorder: 'wheel', files });
      await studio.plug('wheel');
    });
    afterAll(() => studio?.[Symbol.asyncDispose]());

    const runs = (query = ''): Promise<Runs> => studio.service.get(`/v1/runs${query}`);

    it('the roll is clear, and its copies are what the drive holds', async () => {
      const wheel = (await studio.service.verdicts(1)).get('wheel');
      expect(wheel?.clearance.verdict).toBe('clear');
    });

    it('the good one is run on each clip and then over the roll; its files lie in the records, its runs and findings in the API', async () => {
      const ended = await studio.service.until(
        'both plugins have run',
        async () => {
          const { runs: known } = await runs();
          const isOver = ['good/sum', 'hostile/spoil'].every((step) =>
            known.some((run) => run.step === step && !['waiting', 'running'].includes(run.state)),
          );
          return isOver ? known : null;
        },
        90_000,
      );
      const [sum] = ended.filter(({ step }) => step === 'good/sum');
      expect(await studio.service.get(`/v1/runs/${sum?.id}`)).toMatchObject({ state: 'done', output: 150_000 });
      const counts = ended.filter(({ step }) => step === 'good/count');
      expect(counts.map(({ state }) => state)).toEqual(['done', 'done']);
      for (const { filed } of counts) {
        const folder = join(studio.destination(filed?.destination ?? ''), filed?.folder ?? '');
        expect(['100000', '50000']).toContain(await readFile(join(folder, 'length.txt'), 'utf8'));
      }
      const [roll] = await studio.service.rolls();
      const { findings } = await studio.service.get<{ findings: readonly { code: string }[] }>(
        `/v1/shoots/${roll?.shootId}/findings`,
      );
      const codes = findings.map(({ code }) => code);
      expect(codes).toEqual(expect.arrayContaining(['good/COUNTED', 'PLUGIN_TIMED_OUT']));
    });

    it('the hostile one is stopped and named, and footage, verdict and records are as they were', async () => {
      const { runs: hostile } = await runs('?step=hostile/spoil');
      expect(hostile).toMatchObject([{ state: 'failed', failure: { code: 'PLUGIN_TIMED_OUT' } }]);
      const [roll] = await studio.service.rolls();
      expect(roll?.clearance.verdict).toBe('clear');
      const place = `${roll?.shootId}/wheel/${roll?.id}/CLIPS`;
      const drive = await digestsBelow(join(studio.source('wheel'), 'CLIPS'));
      for (const name of ['primary', 'backup'])
        expect(await digestsBelow(join(studio.destination(name), place))).toEqual(drive);
      const rolls = await readdir(join(studio.destination('primary'), `${roll?.shootId}/records/rolls`));
      expect(rolls).toEqual([`${roll?.id}.json`]);
    });

    it('one that cannot be loaded is left out with its reason, and the graph shows all that is in use', async () => {
      const { plugins } = await studio.service.get<{
        plugins: readonly { use: string; failure: { code: string } | null }[];
      }>('/v1/plugins');
      expect(plugins.map(({ use, failure }) => [use, failure?.code ?? null])).toEqual([
        ['./good.ts', null],
        ['./hostile.ts', null],
        ['./patient.ts', null],
        ['./broken.ts', 'PLUGIN_BROKEN'],
      ]);
      const { steps } = await studio.service.get<{ steps: readonly { name: string; after: readonly string[] }[] }>(
        '/v1/steps',
      );
      expect(steps).toContainEqual(expect.objectContaining({ name: 'good/sum', after: ['good/count', 'clearance'] }));
      expect(steps).toContainEqual(expect.objectContaining({ name: 'checksum', plugin: null }));
    });

    it('a person stops a run, has it made again, and stops it again; clearance never waited for it', async () => {
      const run = await studio.service.until(
        'it is under way',
        async () => (await runs('?step=patient/wait&state=running')).runs[0] ?? null,
        60_000,
      );
      const path = `/v1/runs/${run.id}`;
      const standing = (): Promise<{ state: string; why: string }> => studio.service.get(path);
      const isStopped = async (): Promise<string | null> => {
        const { state, why } = await standing();
        return state === 'cancelled' ? why : null;
      };
      await studio.service.post(`${path}/cancel`);
      expect(await studio.service.until('it is stopped', isStopped)).toBe('A person stopped it.');
      await studio.service.post(`${path}/retry`);
      await studio.service.until('it is under way again', async () =>
        (await standing()).state === 'running' ? true : null,
      );
      await studio.service.post(`${path}/skip`);
      expect(await studio.service.until('it is stopped again', isStopped)).toBe('A person left it out.');
    });

    it('a plugin that is corrected while the service runs is loaded anew, and run', async () => {
      const corrected = GOOD.replace("name: 'good'", "name: 'mended'");
      await writeFile(join(studio.folder, 'broken.ts'), corrected);
      const done = await studio.service.until(
        'it has run',
        async () => {
          const known = (await runs('?step=mended/sum&state=done')).runs;
          return known.length === 1 ? known : null;
        },
        60_000,
      );
      expect(done).toMatchObject([{ failure: null }]);
    });

    it('a view that is lost does not run them again: they are on record beside the footage', async () => {
      const before = (await runs('?step=good/count')).runs;
      await studio.service.kill();
      await rm(join(studio.service.data, 'redis'), { recursive: true, force: true });
      await studio.service.run();
      const after = await studio.service.until(
        'the runs are known again',
        async () => {
          const { runs: known } = await runs('?step=good/count');
          return known.length === before.length ? known : null;
        },
        90_000,
      );
      // While the facts of the clips are read again from the records, they also wait for these.
      const known = after.map((run) => ({ ...run, waits: null }));
      expect(known).toEqual(before.map((run) => ({ ...run, isRecognised: true })));
    });

    it('a run under way is stopped when its roll opens again, and made again when that is proven; the API says why', async () => {
      const underWay = async (): Promise<{ why: string; startedAt: string } | null> => {
        const [run] = (await runs('?step=patient/wait&state=running')).runs;
        return run === undefined ? null : studio.service.get(`/v1/runs/${run.id}`);
      };
      // It was left out, which is on no record, so the service that has lost its view has begun it again.
      const first = await studio.service.until('it is under way', underWay, 60_000);
      await studio.pull('wheel');
      const recorder = await studio.plug('wheel', { at: join(studio.folder, 'recording/wheel'), readOnly: false });
      await writeFile(join(recorder.path, 'CLIPS/c.mov'), Buffer.alloc(30_000, 7));
      await unmountDrive(recorder);
      await studio.plug('wheel');
      const again = await studio.service.until(
        'it is made again',
        async () => {
          const now = await underWay();
          return now?.startedAt === first.startedAt ? null : now;
        },
        120_000,
      );
      expect(again.why).toMatch(/^Roll wheel-.* opened again while it ran, so it was stopped; it is made again/);
      await studio.service.verdicts(1);
    });
  },
);
