// oxlint-disable typescript/await-thenable -- the rule does not see that a generic interface is disposable
import { execFile } from 'node:child_process';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { factsOfFile, tryStep } from '@quayside/step-sdk/testing';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import plugin from './index.ts';
import { measure } from './measure.ts';
import { type Channel, isFfmpegMissing, muxTracks, SKIPPED, tones, writeWave } from './test-signals.test-support.ts';

const run = promisify(execFile);

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'quayside-measure-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const SPEECH = tones({ level: -20, seconds: 1, hertz: 300 });
const FULL_SCALE = tones({ level: 0, seconds: 1, hertz: 997 });
const OVERDRIVEN = tones({ level: 6, seconds: 1, hertz: 300 });
const NOTHING = new Float64Array(48_000);
const HISS = tones({ level: -75, seconds: 1, hertz: 4000 });

let made = 0;
async function findingsOf(...channels: readonly Channel[]): Promise<readonly string[]> {
  const file = await writeWave(join(folder, `take ${(made += 1)}.wav`), channels, { bytes: 3 });
  await using outcome = await tryStep(measure, { clips: [{ file, recorder: 'desk' }] });
  return outcome.findings.map(({ code, sentence }) => `${code}: ${sentence.replace(/take \d+/, 'take')}`);
}

describe.skipIf(isFfmpegMissing)(`what is wrong with sound${SKIPPED}`, () => {
  it('is nothing for sound at a good level, nor for a sine that just reaches full scale', async () => {
    expect(await findingsOf(SPEECH, SPEECH)).toEqual([]);
    expect(await findingsOf(FULL_SCALE)).toEqual([]);
  });

  it('is that a track is silent, also when its input only hisses', async () => {
    expect(await findingsOf(NOTHING, NOTHING)).toEqual([
      'SILENT: Sound track 1 of take.wav is silent: its highest sample is digital zero, below -60 dBFS.',
    ]);
    expect(await findingsOf(HISS)).toEqual([
      'SILENT: Sound track 1 of take.wav is silent: its highest sample is -75.0 dBFS, below -60 dBFS.',
    ]);
  });

  it('is that a channel is dead while others are not', async () => {
    expect(await findingsOf(SPEECH, NOTHING)).toEqual([
      'DEAD_CHANNEL: Sound track 1 of take.wav has no sound on channel 2 of 2, while the other reaches -20.0 dBFS.',
    ]);
    expect(await findingsOf(HISS, SPEECH, NOTHING, SPEECH)).toEqual([
      'DEAD_CHANNEL: Sound track 1 of take.wav has no sound on channels 1, 3 of 4, while the others reach up to -20.0 dBFS.',
    ]);
  });

  it('is looked for in each of the channels of a sound recorder, which are no surround sound', async () => {
    const desk = await writeWave(
      join(folder, 'desk.wav'),
      Array.from({ length: 6 }, (_, at) => (at === 3 ? SPEECH : NOTHING)),
    );
    await using outcome = await tryStep(measure, { clips: [{ file: desk, recorder: 'desk' }] });
    // The fourth of six would be the one for low frequencies, which counts for nothing.
    expect(outcome.output?.tracks[0]?.integrated).toBeGreaterThan(-26);
    expect(outcome.output?.tracks[0]?.channels[3]?.peak).toBeCloseTo(-20, 1);
    expect(outcome.findings.map(({ code }) => code)).toEqual(['DEAD_CHANNEL']);
    const many = await writeWave(
      join(folder, 'many.wav'),
      Array.from({ length: 19 }, () => SPEECH),
    );
    await expect(tryStep(measure, { clips: [{ file: many }] })).rejects.toMatchObject({ code: 'TOO_MANY_CHANNELS' });
  });

  it('is that a channel is cut off at full scale', async () => {
    expect(await findingsOf(SPEECH, OVERDRIVEN)).toEqual([
      'CLIPPED: Sound track 1 of take.wav is clipped on channel 2: it reaches 0.0 dBFS and is cut off there.',
    ]);
  });

  it('is told of each track by its number, with what was measured and how far it is', async () => {
    const waves = [SPEECH, NOTHING].map((signal, place) =>
      writeWave(join(folder, `part-${place}.wav`), [signal, signal]),
    );
    const file = await muxTracks(join(folder, 'wheel.mov'), await Promise.all(waves));
    await using outcome = await tryStep(measure, { clips: [{ file }] });
    expect(outcome.findings.map(({ code, sentence }) => [code, sentence.slice(0, 29)])).toEqual([
      ['SILENT', 'Sound track 2 of wheel.mov is'],
    ]);
    expect(outcome.output?.tracks[1]).toMatchObject({
      integrated: null,
      truePeak: null,
      channels: [{ peak: null }, {}],
    });
    expect(outcome.log[1]?.sentence).toBe('Track 2: none LUFS, range 0 LU, true peak none dBTP.');
    expect(outcome.progress.at(-1)?.fraction).toBe(1);
  });
});

describe.skipIf(isFfmpegMissing)(`a run that cannot measure${SKIPPED}`, () => {
  it('is skipped where there is no sound', async () => {
    const file = join(folder, 'mute.mov');
    await run('ffmpeg', ['-v', 'error', '-f', 'lavfi', '-i', 'testsrc2=size=64x36', '-frames:v', '2', file]);
    await using outcome = await tryStep(measure, { clips: [{ file }] });
    expect(outcome.skipped).toBe('It has no sound.');
  });

  it('says what ffmpeg says of a file that has become unreadable, and whether the program is there at all', async () => {
    const file = await writeWave(join(folder, 'good.wav'), [SPEECH]);
    const facts = await factsOfFile(file);
    const broken = join(folder, 'broken.wav');
    await writeFile(broken, (await readFile(file)).fill(0, 0, 64));
    await expect(tryStep(measure, { clips: [{ file: broken, facts }] })).rejects.toMatchObject({
      code: 'NOT_MEASURED',
      retry: 'later',
      message: expect.stringMatching(/ffmpeg says ".*Invalid data found when processing input"/),
    });
    const config = { ffmpeg: join(folder, 'none') };
    await expect(tryStep(measure, { clips: [{ file, facts }], config })).rejects.toMatchObject({
      code: 'FFMPEG_MISSING',
      retry: 'never',
    });
  });

  it('refuses an answer in a form that it does not know', async () => {
    const file = await writeWave(join(folder, 'asked.wav'), [SPEECH]);
    // A program that ends well and has measured nothing.
    await expect(tryStep(measure, { clips: [{ file }], config: { ffmpeg: 'true' } })).rejects.toMatchObject({
      code: 'NOT_UNDERSTOOD',
      message: expect.stringContaining('the loudness of track 1'),
    });
  });

  it('ends ffmpeg when it is told to stop', async () => {
    const file = await writeWave(join(folder, 'long.wav'), [SPEECH]);
    const program = join(folder, 'never-ends');
    const told = join(folder, 'pid');
    await writeFile(program, `#!/bin/sh\necho $$ > '${told}.new'; mv '${told}.new' '${told}'; exec sleep 600\n`, {
      mode: 0o755,
    });
    const stop = new AbortController();
    const tried = tryStep(measure, { clips: [{ file }], config: { ffmpeg: program }, signal: stop.signal });
    const pid = Number(await eventually(() => readFile(told, 'utf8')));
    stop.abort(new Error('Enough.'));
    await expect(tried).rejects.toThrow('Enough.');
    expect(() => process.kill(pid, 0)).toThrow('ESRCH');
  });
});

async function eventually<Value>(look: () => Promise<Value>): Promise<Value> {
  for (;;) {
    const seen = await look().catch(() => null);
    if (seen !== null) return seen;
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
}

it('asks for nothing but to start a program, and comes after the facts are known', () => {
  expect(plugin).toMatchObject({ apiVersion: 1, name: 'loudness' });
  expect(plugin.steps.map(({ name, scope, after, asks }) => [name, scope, after, asks])).toEqual([
    ['measure', 'clip', ['probe'], ['child-processes']],
  ]);
});
