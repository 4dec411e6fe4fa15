// oxlint-disable typescript/await-thenable -- the rule does not see that a generic interface is disposable
import { mkdtemp, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { factsOfFile, tryStep } from '@quayside/step-sdk/testing';
import { type Rate, RATES } from '@quayside/timecode';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  areToolsMissing,
  makeOriginal,
  type OriginalToMake,
  secondOpinion,
  SKIPPED,
} from './originals.test-support.ts';
import { planned } from './planned.test-support.ts';
import { render } from './render.ts';

const PRORES = { name: 'all', make: 'prores-422-proxy', within: '64x64' } as const;
const H264 = { name: 'all', make: 'h264', within: '64x64' } as const;

type Facts = Awaited<ReturnType<typeof factsOfFile>>;

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'quayside-render-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const at = (name: string): string => join(folder, name);

// oxlint-disable-next-line typescript/explicit-function-return-type -- it follows from the step
async function renderOne(
  name: string,
  rule: typeof PRORES | typeof H264 = PRORES,
  change: (facts: Facts) => Facts = (facts) => facts,
) {
  const facts = change(await factsOfFile(at(name)));
  return tryStep(render, { clips: [{ file: at(name), facts }], outputs: { 'proxy-planning': planned(facts, rule) } });
}

/** Two frames before a minute in which drop-frame skips labels. */
function labelOf({ base, drop }: Rate): string {
  return `10:00:59${drop > 0 ? ';' : ':'}${String(base - 2).padStart(2, '0')}`;
}

/** ffprobe, which reads the facts of a trial, guesses rates and takes 119.88 for 120. */
function atRate({ numerator, denominator }: Rate): (facts: Facts) => Facts {
  const rate = { numerator, denominator };
  return ({ picture, ...facts }) => ({
    ...facts,
    picture: picture === null ? null : { ...picture, rate, isVariableRate: false },
  });
}

function withFields({ picture, ...facts }: Facts): Facts {
  return { ...facts, picture: picture === null ? null : { ...picture, scan: 'interlaced' } };
}

function fileOf({ name }: Rate): string {
  return `${name.replace(' ', '-')}.mov`;
}

function x264(...more: string[]): readonly string[] {
  return ['-c:v', 'libx264', '-preset', 'ultrafast', ...more];
}

const FRAMES = 8;
const CANNOT_WRITE: ReadonlySet<string> = new Set(['119.88 DF', '120 DF']);

describe.skipIf(areToolsMissing)(`proxies${SKIPPED}`, { timeout: 300_000 }, () => {
  const rates = Object.values(RATES);

  it('have the frames, the rate and the first label of their original, at every rate and across dropped labels', async () => {
    for (const [index, rate] of rates.entries()) {
      if (CANNOT_WRITE.has(rate.name)) continue;
      await makeOriginal({
        file: at(fileOf(rate)),
        rate: `${rate.numerator}/${rate.denominator}`,
        frames: FRAMES,
        timecode: labelOf(rate),
      });
      await using made = await renderOne(fileOf(rate), index % 2 === 0 ? PRORES : H264, atRate(rate));
      expect([made.findings, made.files], rate.name).toEqual([[], [fileOf(rate)]]);
      // mediainfo shares no code with ffmpeg, which made the proxy and by which the step checked it.
      expect(await secondOpinion(join(made.folder, fileOf(rate))), rate.name).toMatchObject({
        frames: String(FRAMES),
        rate: (rate.numerator / rate.denominator).toFixed(3),
        timecode: labelOf(rate),
        channels: [],
      });
    }
  });

  it('are not made where ffmpeg would write another timecode', async () => {
    for (const name of CANNOT_WRITE) {
      const rate = rates.find((one) => one.name === name) ?? RATES['25'];
      await makeOriginal({ file: at(fileOf(rate)), rate: `${rate.numerator}/${rate.denominator}` });
      const withLabel = (facts: Facts): Facts => ({ ...atRate(rate)(facts), startTimecode: labelOf(rate) });
      await expect(renderOne(fileOf(rate), PRORES, withLabel), name).rejects.toMatchObject({
        code: 'NOT_RENDERED',
        message: expect.stringContaining(`ffmpeg cannot write timecode that counts at ${name}.`),
      });
    }
  });

  it('are right of odd sizes, squeezed pixels, fields, ten bits, and originals with frames that depend on later ones', async () => {
    for (const original of [
      { file: at('odd.mov'), rate: '25', size: '97x55', picture: ['-c:v', 'rawvideo', '-pix_fmt', 'rgb24'] },
      { file: at('squeezed.mov'), rate: '25', size: '96x56', picture: x264('-vf', 'setsar=2/1') },
      {
        file: at('fields.mov'),
        rate: '25',
        size: '96x56',
        picture: x264('-vf', 'setfield=tff', '-flags', '+ilme+ildct'),
      },
      { file: at('ten.mov'), rate: '50', picture: x264('-pix_fmt', 'yuv422p10le', '-bf', '2', '-preset', 'medium') },
    ])
      await makeOriginal(original);
    for (const rule of [PRORES, H264]) {
      for (const name of ['odd.mov', 'squeezed.mov', 'fields.mov', 'ten.mov']) {
        await using made = await renderOne(name, rule, name === 'fields.mov' ? withFields : (facts) => facts);
        expect([made.findings, made.files], name).toEqual([[], [name]]);
        const { frames, scan, timecode } = await secondOpinion(join(made.folder, name));
        expect([frames, timecode], name).toEqual([String(FRAMES), null]);
        expect(scan === 'Progressive', name).toBe(name !== 'fields.mov');
      }
    }
  });

  it('have every sound track with its channels and its length, eight channels without places too', async () => {
    const seconds = FRAMES / 25;
    const eight = `anoisesrc=r=48000:d=${seconds},pan=8c|${Array.from({ length: 8 }, (_, one) => `c${one}=c0`).join('|')}`;
    const originals: readonly OriginalToMake[] = [
      { file: at('eight.mov'), rate: '25', frames: FRAMES, sound: [eight, '-c:a', 'pcm_s24le'] },
      { file: at('compressed.mov'), rate: '25', frames: FRAMES, sound: [`sine=d=${seconds}:r=48000`, '-c:a', 'aac'] },
    ];
    for (const original of originals) await makeOriginal(original);
    await using eightOfThem = await renderOne('eight.mov');
    expect(eightOfThem.findings).toEqual([]);
    expect((await secondOpinion(join(eightOfThem.folder, 'eight.mov'))).channels).toEqual(['8']);
    await using compressed = await renderOne('compressed.mov', H264);
    expect(compressed.findings).toEqual([]);
    expect((await secondOpinion(join(compressed.folder, 'compressed.mov'))).channels).toEqual(['1']);
  });

  it('keep the times of frames that come at a changing rate', async () => {
    const jumping = ['-vf', "setpts='if(lt(N,4),N,2*N-3)/(25*TB)'", '-fps_mode', 'passthrough', '-c:v', 'ffv1'];
    await makeOriginal({ file: at('changing.mov'), rate: '25', frames: FRAMES, picture: jumping });
    const facts = await factsOfFile(at('changing.mov'));
    expect(facts.picture?.isVariableRate).toBe(true);
    await using made = await renderOne('changing.mov');
    expect(made.findings).toEqual([]);
    const proxy = await factsOfFile(join(made.folder, 'changing.mov'));
    expect([proxy.durationMs, proxy.picture?.frameCount]).toEqual([facts.durationMs, FRAMES]);
  });

  it('that do not cut back to their original are not kept, and it says why', async () => {
    await makeOriginal({ file: at('short.mov'), rate: '25', frames: FRAMES, timecode: '10:00:00:00' });
    const longer = (facts: Facts): Facts => ({
      ...facts,
      picture: facts.picture === null ? null : { ...facts.picture, frameCount: FRAMES + 1 },
    });
    await using made = await renderOne('short.mov', PRORES, longer);
    expect([made.files, made.output?.file]).toEqual([[], null]);
    expect(made.findings.map(({ code, sentence }) => `${code}: ${sentence}`)).toEqual([
      'PROXY_DIFFERS: The proxy of short.mov does not cut back to it and was not kept: it has frames 8 where 9 is right.',
    ]);
  });

  it('say what they weigh and took, beside what the plan had said', async () => {
    await using made = await renderOne('short.mov', H264);
    const { output, folder: left } = made;
    const { size } = await stat(join(left, 'short.mov'));
    expect(output).toMatchObject({
      file: 'short.mov',
      encoder: 'libx264',
      predicted: { bytes: { basis: 'bit rate asked for' }, seconds: { basis: 'never measured here' } },
      measured: { from: 'ffv1', to: 'h264', pixels: 96 * 54, frames: FRAMES, bytes: size },
    });
    expect(output?.measured.seconds).toBeGreaterThan(0);
  });

  it('are not made of what the plan does not name, nor of what cannot be read', async () => {
    const facts = await factsOfFile(at('short.mov'));
    const outputs = { 'proxy-planning': planned(facts, PRORES) };
    const none = { 'proxy-planning': planned(facts, { name: 'none', make: 'none' }) };
    await expect(tryStep(render, { clips: [{ file: at('short.mov'), facts }], outputs: none })).rejects.toMatchObject({
      code: 'NOT_PLANNED',
    });
    await expect(tryStep(render, { clips: [{ file: import.meta.filename, facts }], outputs })).rejects.toMatchObject({
      code: 'NOT_RENDERED',
      message: expect.stringContaining('ffmpeg says'),
    });
    await expect(
      tryStep(render, { clips: [{ file: at('short.mov') }], outputs, config: { ffmpeg: 'no-such-program' } }),
    ).rejects.toMatchObject({ code: 'FFMPEG_MISSING' });
  });

  it('stop with the run, and leave nothing', async () => {
    const stopping = new AbortController();
    stopping.abort(new Error('told to stop'));
    const outputs = { 'proxy-planning': planned(await factsOfFile(at('short.mov')), PRORES) };
    const trial = tryStep(render, { clips: [{ file: at('short.mov') }], outputs, signal: stopping.signal });
    await expect(trial).rejects.toThrow('told to stop');
  });
});
