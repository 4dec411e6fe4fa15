import { execFile, spawnSync } from 'node:child_process';
import { promisify } from 'node:util';

const run = promisify(execFile);

export const isFfmpegMissing = ['ffmpeg', 'ffprobe'].some((tool) => spawnSync(tool, ['-version']).error !== undefined);
export const SKIPPED = isFfmpegMissing ? ' (skipped: ffmpeg and ffprobe are not installed)' : '';

export interface ClipOrder {
  /** As ffmpeg takes it. */
  readonly rate: string;
  readonly frames: number;
  /** Options of the coding and the container. */
  readonly options: readonly string[];
}

/** Eight bits of the frame's number, from the left, as white and black bars of eight pixels each. */
const BARS = "geq=lum='if(gt(bitand(N,pow(2,floor(X/8))),0),235,16)':cb=128:cr=128";

/** Makes a clip of 64 by 36 whose pictures show their own number. */
export async function makeNumberedClip(file: string, { rate, frames, options }: ClipOrder): Promise<string> {
  const source = `color=size=64x36:rate=${rate},format=yuv420p,${BARS},trim=end_frame=${frames}`;
  await run('ffmpeg', ['-nostdin', '-v', 'error', '-y', '-f', 'lavfi', '-i', source, ...options, file]);
  return file;
}

/** The number that a picture of such a clip shows, however it is scaled. */
export async function numberShown(jpeg: Buffer): Promise<number> {
  const decode = run(
    'ffmpeg',
    ['-v', 'error', '-i', 'pipe:0', '-vf', 'scale=8:1:flags=area,format=gray', '-f', 'rawvideo', '-'],
    {
      encoding: 'buffer',
    },
  );
  decode.child.stdin?.end(jpeg);
  const { stdout } = await decode;
  return [...stdout].reduce((sum, grey, bit) => sum + (grey > 128 ? 2 ** bit : 0), 0);
}
