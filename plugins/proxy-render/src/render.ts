import { rename, rm, stat } from 'node:fs/promises';
import { basename, extname, join } from 'node:path';
import { ClipPlan, measuredOf, type ProxyTarget, RenderedProxy } from '@quayside/proxy-planning';
import { type ClipSubject, defineStep, type RunLog, StepFailure } from '@quayside/step-sdk';
import { z } from 'zod';
import { findDifferences } from './check/find-differences.ts';
import { probeArguments, readProxyFacts } from './check/proxy-facts.ts';
import { findHardware, type HardwareEncoder } from './ffmpeg/hardware-encoders.ts';
import { ENCODERS, isInterlaced, PROXY_SUFFIX, renderArguments } from './ffmpeg/render-arguments.ts';
import { type ProgramControls, runProgram } from './ffmpeg/run-program.ts';
import { timecodeToWrite } from './ffmpeg/timecode-to-write.ts';

const Config = z.object({
  ffmpeg: z.string().min(1).default('ffmpeg'),
  ffprobe: z.string().min(1).default('ffprobe'),
  /** Threads that one proxy is encoded with; 0 leaves it to ffmpeg. */
  threads: z.number().int().min(0).max(64).default(0),
  /** Whether the machine's own encoder is looked for, for h264. */
  hardware: z.enum(['off', 'auto']).default('off'),
});

type Clip = ClipSubject['clip'];

/** Makes the proxy that the plan has for a clip, and keeps it under its name only when it cuts back to the original. */
export const render = defineStep({
  name: 'render',
  scope: 'clip',
  description: 'ProRes 422 Proxy or H.264 with the frames, timecode and sound channels of the original.',
  after: ['proxy-planning'],
  asks: ['child-processes'],
  limits: { seconds: 12 * 3600, memoryMb: 256, outputMb: 1_000_000 },
  makesWay: true,
  config: Config,
  output: RenderedProxy,
  async run({ subject: { clip }, outputs, config, copies, outputFolder, report, progress, log, signal }) {
    const planned = ClipPlan.parse(outputs['proxy-planning']);
    const { picture } = clip.facts;
    if (planned.state !== 'planned' || picture === null)
      throw new StepFailure({ code: 'NOT_PLANNED', sentence: planned.why, retry: 'never' });
    const { proxy: target, bytes, seconds: expected } = planned;
    const timecode = timecodeToWrite(target.startTimecode, target.rate);
    if (!timecode.can) throw notRendered(clip.path, timecode.why);

    const file = `${basename(clip.path, extname(clip.path))}${PROXY_SUFFIX}`;
    const staged = join(outputFolder, `unchecked${PROXY_SUFFIX}`);
    const startedAt = performance.now();
    const original = copies.of(clip);
    const renderBy = (hardware: HardwareEncoder | null): Promise<void> => {
      const { threads } = config;
      const args = renderArguments({ original, proxy: staged, target, timecode: timecode.label, threads, hardware });
      const onLine = (line: string): void => {
        const frame = Number(/^frame=(\d+)$/.exec(line)?.[1] ?? Number.NaN);
        if (frame > 0) progress({ fraction: Math.min(1, frame / target.frameCount), text: `${frame} frames` });
      };
      return renderWith({ ffmpeg: config.ffmpeg, args, path: clip.path }, { signal, onLine });
    };
    let hardware =
      config.hardware === 'auto' ? await hardwareFor(target, { ffmpeg: config.ffmpeg, signal, log }) : null;
    try {
      await renderBy(hardware);
    } catch (error) {
      if (hardware === null || signal.aborted) throw error;
      // A machine's own encoder may take fewer sizes, or fewer pictures at once.
      log.warn(`${hardware.name} did not make it, so ffmpeg's own encoder does.`);
      hardware = null;
      await rm(staged, { force: true });
      await renderBy(null);
    }
    const differences = await check(config.ffprobe, staged, { clip, target, signal });
    const seconds = (performance.now() - startedAt) / 1000;
    const { size } = await stat(staged);
    const outcome = {
      encoder: hardware?.name ?? ENCODERS[target.codec],
      target,
      predicted: { bytes, seconds: expected },
      measured: measuredOf(target, picture, { seconds, bytes: size }),
    };
    if (differences.length > 0) {
      await rm(staged);
      report.finding({
        code: 'PROXY_DIFFERS',
        severity: 'warning',
        sentence: `The proxy of ${clip.path} does not cut back to it and was not kept: ${differences.join('; ')}.`,
        remedy:
          'Edit the original of this clip; retry once its copies are proven again or another ffmpeg is installed.',
      });
      return { file: null, ...outcome };
    }
    await rename(staged, join(outputFolder, file));
    return { file, ...outcome };
  },
});

/** The machine's own encoder for a target, where there is one that takes it; the run's log says what was found. */
async function hardwareFor(
  { codec, scan }: ProxyTarget,
  { ffmpeg, signal, log }: { readonly ffmpeg: string; readonly signal: AbortSignal; readonly log: RunLog },
): Promise<HardwareEncoder | null> {
  if (codec !== 'h264' || isInterlaced(scan)) return null;
  const { encoder, refused } = await findHardware(ffmpeg, signal);
  if (encoder === null)
    log.info(
      `This machine has no encoder of its own for H.264 that works (${refused.join('; ')}): ${ENCODERS.h264} makes it.`,
    );
  return encoder;
}

async function renderWith(
  { ffmpeg, args, path }: { readonly ffmpeg: string; readonly args: readonly string[]; readonly path: string },
  controls: ProgramControls,
): Promise<void> {
  const all = ['-hide_banner', '-nostdin', '-nostats', '-v', 'error', '-progress', 'pipe:1', ...args];
  const { code, said } = await runProgram(ffmpeg, all, controls);
  if (code === 0) return;
  const reason = said.trim().split('\n').at(-1) ?? '';
  throw notRendered(path, `ffmpeg says "${reason.slice(0, 300)}".`);
}

async function check(
  ffprobe: string,
  proxy: string,
  { clip, target, signal }: { readonly clip: Clip; readonly target: ProxyTarget; readonly signal: AbortSignal },
): Promise<readonly string[]> {
  const lines: string[] = [];
  const { code } = await runProgram(ffprobe, probeArguments(proxy), { signal, onLine: (line) => lines.push(line) });
  const facts = code === 0 ? readProxyFacts(lines.join('\n')) : null;
  if (facts === null) return ['it cannot be read'];
  const soundSeconds = clip.facts.sound.map(({ sampleCount, sampleRate }) =>
    sampleCount === null || sampleRate === null ? null : sampleCount / sampleRate,
  );
  return findDifferences(target, { soundSeconds, durationMs: clip.facts.durationMs }, facts);
}

function notRendered(path: string, why: string): StepFailure {
  const sentence = `No proxy of ${path} could be made: ${why} Edit its original.`;
  return new StepFailure({ code: 'NOT_RENDERED', sentence, retry: 'never' });
}
