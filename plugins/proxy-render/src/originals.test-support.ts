import { execFile, spawnSync } from 'node:child_process';
import { promisify } from 'node:util';

const run = promisify(execFile);

const missing = ['ffmpeg', 'ffprobe', 'mediainfo'].filter((tool) => spawnSync(tool, ['--version']).error !== undefined);
export const areToolsMissing = missing.length > 0;
export const SKIPPED = areToolsMissing ? ` (skipped: ${missing.join(' and ')} not installed)` : '';

export interface OriginalToMake {
  readonly file: string;
  /** As ffmpeg takes it: a fraction. */
  readonly rate: string;
  readonly size?: string;
  readonly frames?: number;
  readonly timecode?: string;
  /** Options of the output beyond the lossless default. */
  readonly picture?: readonly string[];
  /** A filter graph that makes sound, and how it is coded. */
  readonly sound?: readonly [graph: string, ...options: string[]];
}

/** Makes an original of a few tiny frames. */
export async function makeOriginal(original: OriginalToMake): Promise<void> {
  const { file, rate, size = '96x54', frames = 8, timecode, picture = LOSSLESS, sound } = original;
  const [graph, ...coding] = sound ?? [];
  const input = ['-f', 'lavfi', '-i', `testsrc=size=${size}:rate=${rate}`];
  if (graph !== undefined) input.push('-f', 'lavfi', '-i', graph);
  // As the rate says: ffmpeg takes 119.88 for 120 where it is not told.
  const [numerator, denominator = '1'] = rate.split('/');
  const times = ['-fps_mode', 'passthrough', '-enc_time_base', `${denominator}:${numerator}`];
  const label = timecode === undefined ? ['-write_tmcd', 'off'] : ['-timecode', timecode];
  const output = [...times, ...picture, ...coding, '-frames:v', String(frames), ...label, file];
  await run('ffmpeg', ['-v', 'error', '-nostdin', '-y', ...input, ...output]);
}

const LOSSLESS = ['-c:v', 'ffv1'];

/** What mediainfo, which shares no code with ffmpeg, says of a proxy. */
export async function secondOpinion(file: string): Promise<{
  readonly frames: string;
  readonly rate: string;
  readonly timecode: string | null;
  readonly channels: readonly string[];
  readonly scan: string | null;
}> {
  const { stdout } = await run('mediainfo', ['--Output=JSON', file]);
  const { media } = JSON.parse(stdout) as { media: { track: readonly Readonly<Record<string, string>>[] } };
  const of = (type: string): readonly Readonly<Record<string, string>>[] =>
    media.track.filter((track) => track['@type'] === type);
  const [picture] = of('Video');
  return {
    frames: picture?.['FrameCount'] ?? '',
    rate: Number(picture?.['FrameRate'] ?? 0).toFixed(3),
    timecode: of('Other').find((track) => track['Type'] === 'Time code')?.['TimeCode_FirstFrame'] ?? null,
    channels: of('Audio').map((track) => track['Channels'] ?? ''),
    scan: picture?.['ScanType'] ?? null,
  };
}
