import { mkdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { Clip } from '@quayside/shoot';
import { factsOfFile } from '@quayside/step-sdk/testing';
import { runFfmpeg } from '../../media/run-ffmpeg.ts';

/** A clip of the mixed set, and where it lies. */
export interface MixedClip {
  readonly file: string;
  readonly clip: Clip;
}

interface Recorder {
  readonly name: string;
  readonly size: string;
  readonly rate: string;
  readonly coding: readonly string[];
}

const H264 = ['-c:v', 'libx264', '-preset', 'ultrafast'];
const RECORDERS: readonly Recorder[] = [
  { name: 'wheel', size: '1920x1080', rate: '25', coding: ['-c:v', 'prores_ks', '-profile:v', '1'] },
  { name: 'hands', size: '1920x1080', rate: '50', coding: [...H264, '-pix_fmt', 'yuv420p', '-b:v', '40M'] },
  { name: 'wide', size: '3840x2160', rate: '24000/1001', coding: [...H264, '-pix_fmt', 'yuv420p', '-b:v', '80M'] },
  { name: 'kiln', size: '1280x720', rate: '60000/1001', coding: [...H264, '-pix_fmt', 'yuv420p', '-b:v', '15M'] },
];
/** Of each take, so that none is as long as another. */
const SECONDS = [2, 1, 1.5, 2.5] as const;

/**
 * Makes takes of four recorders that write other codecs, sizes and rates: a moving picture with the noise of a sensor, which
 * each take and recorder has its own of, and two channels of sound.
 */
export async function makeMixedClips(folder: string): Promise<readonly MixedClip[]> {
  await mkdir(folder, { recursive: true });
  const clips: MixedClip[] = [];
  for (const [take, seconds] of SECONDS.entries()) {
    for (const [place, recorder] of RECORDERS.entries()) {
      const path = `${recorder.name}-${take + 1}.mov`;
      const file = join(folder, path);
      await record({ file, recorder, seconds, seed: take * RECORDERS.length + place + 1 });
      clips.push({ file, clip: await clipOf(file, { path, recorder: recorder.name }) });
    }
  }
  return clips;
}

async function record({
  file,
  recorder: { size, rate, coding },
  seconds,
  seed,
}: {
  readonly file: string;
  readonly recorder: Recorder;
  readonly seconds: number;
  readonly seed: number;
}): Promise<void> {
  const picture = `testsrc2=size=${size}:rate=${rate}:duration=${seconds},noise=alls=${4 + (seed % 5)}:allf=t:all_seed=${seed}`;
  await runFfmpeg(file, [
    ['-f', 'lavfi', '-i', picture, '-f', 'lavfi', '-i', `anoisesrc=r=48000:d=${seconds}:seed=${seed}`],
    coding,
    ['-c:a', 'pcm_s24le', '-ac', '2', '-timecode', '10:00:00:00', '-f', 'mov'],
  ]);
}

async function clipOf(
  file: string,
  { path, recorder }: { readonly path: string; readonly recorder: string },
): Promise<Clip> {
  const { size, mtime } = await stat(file);
  const facts = await factsOfFile(file);
  const rollId = `${recorder}-1`;
  const named = { id: `${rollId}/${path}`, rollId, path, recorder, role: 'camera' } as const;
  return { ...named, sizeInBytes: size, modifiedAt: mtime.toISOString(), facts };
}
