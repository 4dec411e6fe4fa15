// oxlint-disable typescript/await-thenable -- the rule does not see that a generic interface is disposable
import { execFile, spawnSync } from 'node:child_process';
import { copyFile, mkdtemp, readFile, rm, truncate, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { factsOfFile, tryStep } from '@quayside/step-sdk/testing';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { draw } from './draw.ts';
import plugin from './index.ts';
import { isFfmpegMissing, makeNumberedClip, numberShown, SKIPPED } from './numbered-clip.test-support.ts';

const run = promisify(execFile);
const isXmllintMissing = spawnSync('xmllint', ['--version']).error !== undefined;

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'quayside-contact-sheet-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const PRORES = ['-c:v', 'prores_ks', '-profile:v', '0'];
/** Seeking lands before the wanted frame here, and frames are not stored in the order in which they are shown. */
const LONG_GROUPS = [
  '-c:v',
  'libx264',
  '-preset',
  'fast',
  '-bf',
  '3',
  '-g',
  '120',
  '-keyint_min',
  '120',
  '-sc_threshold',
  '0',
];

/** What the frames of a sheet show, read from its pictures, beside what the step says of them. */
async function shownAndTold(
  files: Awaited<ReturnType<typeof drawOne>>,
): Promise<readonly (readonly [shown: number, told: number | null, timecode: string | null])[]> {
  const { svg, frames } = files;
  const pictures = [...svg.matchAll(/data:image\/jpeg;base64,([^"]+)"/g)].map(([, text = '']) =>
    Buffer.from(text, 'base64'),
  );
  expect(pictures).toHaveLength(frames.length);
  return Promise.all(
    frames.map(
      async ({ frame, timecode }, place) =>
        [await numberShown(pictures[place] ?? Buffer.of()), frame, timecode] as const,
    ),
  );
}

async function drawOne(
  clip: Parameters<typeof tryStep>[1]['clips'][number],
  framesPerClip: number,
): Promise<{ svg: string; frames: readonly { frame: number | null; timecode: string | null }[] }> {
  await using outcome = await tryStep(draw, { clips: [clip], config: { framesPerClip, frameWidth: 64 } });
  const [sheet] = outcome.output?.sheets ?? [];
  return { svg: await readFile(join(outcome.folder, sheet?.file ?? ''), 'utf8'), frames: sheet?.frames ?? [] };
}

describe.skipIf(isFfmpegMissing)(`the frames of a sheet${SKIPPED}`, () => {
  it('stand at even distances, each with the timecode of the very picture that it shows', async () => {
    const options = [...PRORES, '-timecode', '10:00:00:00'];
    const file = await makeNumberedClip(join(folder, 'wheel.mov'), { rate: '24000/1001', frames: 96, options });
    const { svg, frames } = await drawOne({ file }, 4);
    expect(await shownAndTold({ svg, frames })).toEqual([
      [12, 12, '10:00:00:12'],
      [36, 36, '10:00:01:12'],
      [60, 60, '10:00:02:12'],
      [84, 84, '10:00:03:12'],
    ]);
    expect(svg).toContain('>wheel 10:00:02:12</text>');
  });

  it('keep to drop-frame counting, also where pictures are stored in groups and out of order', async () => {
    const options = [...LONG_GROUPS, '-timecode', '00:00:59;20'];
    const file = await makeNumberedClip(join(folder, 'drop.mov'), { rate: '30000/1001', frames: 60, options });
    // SMPTE ST 12-1: after 00:00:59;29 comes 00:01:00;02.
    expect(await shownAndTold(await drawOne({ file }, 3))).toEqual([
      [10, 10, '00:01:00;02'],
      [30, 30, '00:01:00;22'],
      [50, 50, '00:01:01;12'],
    ]);
  });

  it('are the right ones where the file does not begin at zero, or its sound begins first', async () => {
    const made = await makeNumberedClip(join(folder, 'plain.mkv'), { rate: '25', frames: 50, options: LONG_GROUPS });
    const facts = { ...(await factsOfFile(made)), startTimecode: '23:59:59:10' };
    const late = join(folder, 'late.ts');
    const sound = ['-f', 'lavfi', '-i', 'sine=duration=3'];
    await run('ffmpeg', [
      '-v',
      'error',
      '-itsoffset',
      '0.48',
      '-i',
      made,
      ...sound,
      '-c:v',
      'copy',
      '-muxdelay',
      '5',
      late,
    ]);
    expect(await shownAndTold(await drawOne({ file: late, facts }, 2))).toEqual([
      [12, 12, '23:59:59:22'],
      [37, 37, '00:00:00:22'],
    ]);
  });

  it('are all that there are where a clip has fewer than asked for', async () => {
    const file = await makeNumberedClip(join(folder, 'short.mov'), { rate: '50', frames: 2, options: PRORES });
    expect(await shownAndTold(await drawOne({ file }, 6))).toEqual([
      [0, 0, null],
      [1, 1, null],
    ]);
  });

  it('have no timecode where the rate is not steady', async () => {
    const options = ['-filter_complex', "[0:v]select='not(between(n,3,20))'", '-fps_mode', 'vfr', ...LONG_GROUPS];
    const file = await makeNumberedClip(join(folder, 'unsteady.mkv'), { rate: '25', frames: 40, options });
    const facts = await factsOfFile(file);
    if (facts.picture === null) return expect.unreachable();
    const unsteady = { ...facts, startTimecode: '10:00:00:00', picture: { ...facts.picture, isVariableRate: true } };
    const { frames } = await drawOne({ file, facts: unsteady }, 3);
    expect(frames.map(({ timecode }) => timecode)).toEqual([null, null, null]);
  });

  it('are said to be missing where the clip is damaged, and the others are shown', async () => {
    const file = await makeNumberedClip(join(folder, 'cut.mov'), {
      rate: '24',
      frames: 96,
      options: [...PRORES, '-movflags', '+faststart', '-timecode', '10:00:00:00'],
    });
    const facts = await factsOfFile(file);
    await truncate(file, Math.floor((await readFile(file)).length * 0.6));
    await using outcome = await tryStep(draw, {
      clips: [{ file, facts }],
      config: { framesPerClip: 4, frameWidth: 64 },
    });
    expect(outcome.output?.sheets[0]?.frames.map(({ timecode }) => timecode)).toEqual(['10:00:00:12', '10:00:01:12']);
    expect(outcome.findings).toMatchObject([
      { code: 'FRAMES_UNREADABLE', sentence: '2 of 4 frames of cut.mov (wheel) could not be read.' },
    ]);
    expect(await readFile(join(outcome.folder, 'group-1.svg'), 'utf8')).toContain('>wheel could not be read</text>');
  });
});

describe.skipIf(isFfmpegMissing)(`the sheets of a shoot${SKIPPED}`, () => {
  it('are one for each group, its recorders in rows, and one for what ran alone', async () => {
    const options = [...PRORES, '-timecode', '10:00:00:00'];
    const clip = await makeNumberedClip(join(folder, 'a & b <1>.mov'), { rate: '24', frames: 24, options });
    const desk = join(folder, 'desk.wav');
    await run('ffmpeg', ['-v', 'error', '-f', 'lavfi', '-i', 'sine=duration=1', desk]);
    const clips = [
      { file: clip },
      { file: clip, recorder: 'kiln' },
      { file: desk, recorder: 'desk' },
      { file: clip, recorder: 'wide' },
    ];
    const members = ['wheel-001/a & b <1>.mov', 'kiln-001/a & b <1>.mov', 'desk-001/desk.wav'].map((clipId) => ({
      clipId,
      recorder: clipId.split('-', 1)[0] ?? '',
      offsetInFrames: 0,
      confidence: 'sure' as const,
    }));
    const rate = { numerator: 24, denominator: 1 };
    const groups = [{ id: '2026/../x', startTimecode: '10:00:00:00', rate, lengthInFrames: 24, members }];
    await using outcome = await tryStep(draw, { clips, groups, config: { framesPerClip: 2 } });
    expect(outcome.files).toEqual(['2026-x.svg', 'in-no-group.svg']);
    expect(outcome.output?.sheets.map(({ frames }) => frames.map((one) => one.clip.split('-', 1)[0]))).toEqual([
      ['wheel', 'wheel', 'kiln', 'kiln'],
      ['wide', 'wide'],
    ]);
    const svg = await readFile(join(outcome.folder, '2026-x.svg'), 'utf8');
    expect(svg).toContain('>desk  desk.wav  sound only</text>');
    expect(svg).toContain('>kiln  a &amp; b &lt;1&gt;.mov</text>');
    // Nothing is fetched when it is looked at.
    expect(svg.replaceAll('http://www.w3.org/2000/svg', '')).not.toMatch(/https?:|file:|href="(?!data:)/);
    expect(outcome.progress.at(-1)).toEqual({ fraction: 1, text: '4 of 4 clips' });
  });

  it.skipIf(isXmllintMissing)(
    `are well-formed whatever a file is called${isXmllintMissing ? ' (skipped: xmllint is not installed)' : ''}`,
    async () => {
      const made = await makeNumberedClip(join(folder, 'named.mov'), { rate: '24', frames: 2, options: PRORES });
      const odd = join(folder, '\u0001 "]]>&<\uFFFF ü.mov');
      await copyFile(made, odd);
      await using outcome = await tryStep(draw, { clips: [{ file: odd }], config: { framesPerClip: 1 } });
      await run('xmllint', ['--noout', '--huge', join(outcome.folder, 'group-1.svg')]);
    },
  );

  it('are not drawn without ffmpeg, nor where nothing has a picture', async () => {
    const clip = await makeNumberedClip(join(folder, 'one.mov'), { rate: '24', frames: 2, options: PRORES });
    const config = { ffmpeg: join(folder, 'none') };
    await expect(tryStep(draw, { clips: [{ file: clip }], config })).rejects.toMatchObject({ code: 'FFMPEG_MISSING' });
    const desk = join(folder, 'alone.wav');
    await run('ffmpeg', ['-v', 'error', '-f', 'lavfi', '-i', 'sine=duration=1', desk]);
    await using outcome = await tryStep(draw, { clips: [{ file: desk }] });
    expect(outcome.skipped).toBe('No clip has a picture.');
  });

  it('end with ffmpeg at once when they are told to stop', async () => {
    const clip = await makeNumberedClip(join(folder, 'two.mov'), { rate: '24', frames: 2, options: PRORES });
    const [program, told] = [join(folder, 'never-ends'), join(folder, 'pid')];
    const script = `#!/bin/sh\necho $$ > '${told}.new'; mv '${told}.new' '${told}'; exec sleep 600\n`;
    await writeFile(program, script, { mode: 0o755 });
    const stop = new AbortController();
    const tried = tryStep(draw, { clips: [{ file: clip }], config: { ffmpeg: program }, signal: stop.signal });
    let pid = Number.NaN;
    while (Number.isNaN(pid)) {
      await new Promise((resolve) => setTimeout(resolve, 20));
      pid = Number(await readFile(told, 'utf8').catch(() => 'none'));
    }
    stop.abort(new Error('Enough.'));
    await expect(tried).rejects.toThrow('Enough.');
    expect(() => process.kill(pid, 0)).toThrow('ESRCH');
  });
});

it('asks for nothing but to start a program, and comes after the groups are known', () => {
  expect(plugin.steps.map(({ name, scope, after, asks }) => [name, scope, after, asks])).toEqual([
    ['draw', 'shoot', ['sync-grouping'], ['child-processes']],
  ]);
});
