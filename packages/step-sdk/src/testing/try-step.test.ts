// oxlint-disable typescript/await-thenable -- the rule does not see that a generic interface is disposable
import { execFile, spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { chmod, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { ClipSubject, ShootSubject } from '@quayside/shoot';
import { afterAll, beforeAll, describe, expect, expectTypeOf, it } from 'vitest';
import { z } from 'zod';
import { defineStep } from '../define-step.ts';
import { StepFailure } from '../step-failure.ts';
import { tryStep } from './try-step.ts';

const run = promisify(execFile);
const isMissing = ['ffmpeg', 'ffprobe'].some((tool) => spawnSync(tool, ['-version']).error !== undefined);

let folder = '';
let clip = '';
let sound = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'quayside-try-step-'));
  [clip, sound] = [join(folder, 'wheel 1.mov'), join(folder, 'desk.wav')];
  if (isMissing) return;
  const picture = ['-f', 'lavfi', '-i', 'testsrc2=size=64x36:rate=24000/1001,trim=end_frame=24'];
  const tone = ['-f', 'lavfi', '-i', 'sine=sample_rate=48000,atrim=end_sample=48048'];
  const made = ['-c:v', 'prores_ks', '-profile:v', '0', '-c:a', 'pcm_s24le', '-timecode', '10:00:00:00', clip];
  await run('ffmpeg', ['-nostdin', '-v', 'error', ...picture, ...tone, ...made]);
  const wave = ['-c:a', 'pcm_s24le', '-write_bext', '1', '-metadata', 'time_reference=1729728000', sound];
  await run('ffmpeg', ['-nostdin', '-v', 'error', ...tone, ...wave]);
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const count = defineStep({
  name: 'count',
  scope: 'clip',
  config: z.object({ atLeast: z.number().default(25) }),
  output: z.object({ frames: z.coerce.number() }),
  secrets: ['licence'],
  when: ({ subject }) => subject.clip.facts.picture !== null || 'It has no picture.',
  async run({ subject: { clip: one }, config, copies, report, log, progress, secrets, outputFolder, scratchFolder }) {
    const frames = one.facts.picture?.frameCount ?? 0;
    log.info(`${one.path} and a secret of ${secrets.licence.length} letters`);
    progress({ fraction: 1, text: 'counted' });
    const [sentence, remedy] = [`${one.path} has ${frames} frames.`, 'Look at it.'];
    if (frames < config.atLeast) report.finding({ code: 'SHORT', severity: 'info', sentence, remedy });
    await writeFile(join(outputFolder, 'size.txt'), String((await readFile(copies.of(one))).length));
    await writeFile(join(scratchFolder, 'work'), '');
    return { frames: String(frames) };
  },
});

type Work = (run: { readonly path: string; readonly find: (code: string) => void }) => Promise<unknown>;

const tried = (work: Work): Promise<unknown> => tryStep(wrong(work), { clips: [{ file: clip }] });

/** A step that says that it gives a number, and gives what it is told to. */
const wrong = (work: Work) =>
  defineStep({
    name: 'wrong',
    scope: 'clip',
    output: z.object({ n: z.unknown() }) as unknown as z.ZodObject<{ n: z.ZodNumber }>,
    run: async ({ subject, copies, report }) => {
      const find = (code: string): void =>
        report.finding({ code, severity: 'info', sentence: 'So it is.', remedy: 'Look.' });
      return (await work({ path: copies.of(subject.clip), find })) as { n: number };
    },
  });

describe.skipIf(isMissing)(
  `trying a step${isMissing ? ' (skipped: ffmpeg and ffprobe are not installed)' : ''}`,
  () => {
    it('gives a step the facts and a copy of a real clip, and tells all that came of it', async () => {
      const before = await readFile(clip);
      const outcome = await tryStep(count, { clips: [{ file: clip }], secrets: { licence: 'abc' } });
      expectTypeOf(outcome.output).toEqualTypeOf<{ frames: number } | null>();
      expect(outcome).toMatchObject({
        skipped: null,
        output: { frames: 24 },
        findings: [{ code: 'SHORT', sentence: 'wheel 1.mov has 24 frames.' }],
        log: [{ level: 'info', sentence: 'wheel 1.mov and a secret of 3 letters' }],
        progress: [{ fraction: 1, text: 'counted' }],
        files: ['size.txt'],
      });
      expect(await readFile(join(outcome.folder, 'size.txt'), 'utf8')).toBe(String(before.length));
      expect(await readFile(clip)).toEqual(before);
      await outcome[Symbol.asyncDispose]();
      expect(existsSync(outcome.folder)).toBe(false);
    });

    it('takes a configuration as its schema does, and refuses a wrong one with its place', async () => {
      const secrets = { licence: '' };
      await using enough = await tryStep(count, { clips: [{ file: clip }], config: { atLeast: 24 }, secrets });
      expect(enough.findings).toEqual([]);
      // @ts-expect-error -- a text is no number
      const refused = tryStep(count, { clips: [{ file: clip }], config: { atLeast: 'many' } });
      await expect(refused).rejects.toThrow(/^The configuration does not fit its schema: at "atLeast"/);
    });

    it('says why a step did not run', async () => {
      await using outcome = await tryStep(count, { clips: [{ file: sound }] });
      expect(outcome).toMatchObject({ skipped: 'It has no picture.', output: null, files: [] });
    });

    it('reads facts that fit the schema of what a host tells, at 24000/1001 and in samples since midnight', async () => {
      const tell = defineStep({
        name: 'tell',
        scope: 'shoot',
        output: z.object({ subject: ShootSubject }),
        run: async ({ subject }) => ({ subject }),
      });
      await using outcome = await tryStep(tell, { clips: [{ file: clip }, { file: sound, recorder: 'desk' }] });
      const subject = outcome.output?.subject;
      expect(subject?.clips[0]?.facts).toMatchObject({
        picture: { rate: { numerator: 24_000, denominator: 1001 }, frameCount: 24, isVariableRate: false },
        startTimecode: '10:00:00:00',
        sound: [{ channels: 1, sampleRate: 48_000, bitDepth: 24, sampleCount: 48_048 }],
      });
      // 10:00:00:00 at 23.976, as EBU Tech 3285 counts it: 864000 frames of 2002 samples.
      expect(subject?.clips[1]).toMatchObject({ role: 'sound', facts: { wave: { timeReference: 1_729_728_000 } } });
      expect(subject?.rolls.map(({ id }) => id)).toEqual(['wheel-001', 'desk-001']);
      expect(subject?.groups).toMatchObject([{ startTimecode: '10:00:00:00', lengthInFrames: 24 }]);
    });

    it('holds a step to its contract: what it gives, what it finds, and that it changes no copy', async () => {
      await expect(tried(async () => null)).rejects.toThrow(/^What the step gave does not fit its schema/);
      await expect(tried(async () => ({ n: new Date() }))).rejects.toThrow(/^output\.n is nothing that JSON can hold/);
      await expect(tried(async ({ find }) => find('not a code'))).rejects.toThrow(/^No host takes this finding/);
      await expect(
        tried(async ({ path }) => {
          await chmod(path, 0o644);
          await writeFile(path, 'x');
          return { n: 1 };
        }),
      ).rejects.toThrow('The step changed the verified copy of wheel 1.mov.');
    });

    it('lets through what a step throws, and leaves no folder behind', async () => {
      const places: string[] = [];
      const failing = defineStep({
        name: 'failing',
        scope: 'clip',
        run: async ({ scratchFolder }) => {
          places.push(scratchFolder);
          throw new StepFailure({ code: 'NO_LICENCE', sentence: 'It has no licence.', retry: 'never' });
        },
      });
      await expect(tryStep(failing, { clips: [{ file: clip }] })).rejects.toMatchObject({ code: 'NO_LICENCE' });
      expect(places.map((place) => existsSync(place))).toEqual([false]);
    });

    it('tells a step to stop', async () => {
      const stop = new AbortController();
      const waiting = defineStep({
        name: 'waiting',
        scope: 'clip',
        run: ({ signal }) =>
          new Promise<void>((_, reject) => {
            signal.addEventListener('abort', () => reject(signal.reason));
            stop.abort(new Error('Enough.'));
          }),
      });
      const stopped = tryStep(waiting, { clips: [{ file: clip }], signal: stop.signal });
      await expect(stopped).rejects.toThrow('Enough.');
    });
  },
);

it('refuses clips that do not fit the scope', async () => {
  const facts = ClipSubject.shape.clip.shape.facts.parse({
    kind: 'other',
    container: null,
    durationMs: null,
    picture: null,
    startTimecode: null,
    sound: [],
    wave: null,
    device: { make: null, model: null, serial: null },
    reel: null,
    created: null,
    damage: [],
  });
  const notes = join(folder, 'notes.txt');
  await writeFile(notes, 'said');
  const refused = tryStep(count, {
    clips: [
      { file: notes, facts },
      { file: notes, facts, recorder: 'kiln' },
    ],
  });
  await expect(refused).rejects.toThrow('A step of scope "clip" is tried on one clip at a time.');
});
