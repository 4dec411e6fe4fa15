import { execFile, spawnSync } from 'node:child_process';
import { writeFile } from 'node:fs/promises';
import { promisify } from 'node:util';

const run = promisify(execFile);

export const isFfmpegMissing = ['ffmpeg', 'ffprobe'].some((tool) => spawnSync(tool, ['-version']).error !== undefined);
export const SKIPPED = isFfmpegMissing ? ' (skipped: ffmpeg and ffprobe are not installed)' : '';

/** The samples of one channel, from -1 to 1 at 48 kHz. What is beyond is cut off, as a converter does. */
export type Channel = Float64Array;

const RATE = 48_000;

export interface Tone {
  /** Of the peak, in dBFS. */
  readonly level: number;
  readonly seconds: number;
  readonly hertz?: number;
  readonly degrees?: number;
}

/** Tones one after the other, without a jump of phase between tones of one pitch. */
export function tones(...parts: readonly Tone[]): Channel {
  const samples = new Float64Array(parts.reduce((sum, { seconds }) => sum + Math.round(seconds * RATE), 0));
  let at = 0;
  for (const { level, seconds, hertz = 1000, degrees = 0 } of parts) {
    const amplitude = 10 ** (level / 20);
    const end = at + Math.round(seconds * RATE);
    for (; at < end; at += 1)
      samples[at] = amplitude * Math.sin((2 * Math.PI * hertz * at) / RATE + (degrees * Math.PI) / 180);
  }
  return samples;
}

/** Writes a wave file of 16 or 24 bits. A `mask` declares where its channels belong (WAVE_FORMAT_EXTENSIBLE). */
export async function writeWave(
  file: string,
  channels: readonly Channel[],
  { bytes = 2, mask = 0 }: { readonly bytes?: 2 | 3; readonly mask?: number } = {},
): Promise<string> {
  const frames = channels[0]?.length ?? 0;
  const block = channels.length * bytes;
  const head = Buffer.alloc(68);
  head.write('RIFF');
  head.writeUInt32LE(60 + frames * block, 4);
  head.write('WAVEfmt ', 8);
  head.writeUInt32LE(40, 16);
  head.writeUInt16LE(0xfffe, 20);
  head.writeUInt16LE(channels.length, 22);
  head.writeUInt32LE(RATE, 24);
  head.writeUInt32LE(RATE * block, 28);
  head.writeUInt16LE(block, 32);
  head.writeUInt16LE(8 * bytes, 34);
  head.writeUInt16LE(22, 36);
  head.writeUInt16LE(8 * bytes, 38);
  head.writeUInt32LE(mask, 40);
  head.write('0100000000001000800000aa00389b71', 44, 'hex');
  head.write('data', 60);
  head.writeUInt32LE(frames * block, 64);
  const data = Buffer.alloc(frames * block);
  const full = 2 ** (8 * bytes - 1);
  for (let frame = 0, at = 0; frame < frames; frame += 1) {
    for (const channel of channels) {
      const sample = Math.round((channel[frame] ?? 0) * full);
      data.writeIntLE(Math.max(-full, Math.min(full - 1, sample)), at, bytes);
      at += bytes;
    }
  }
  await writeFile(file, Buffer.concat([head, data]));
  return file;
}

/** One clip with each of the files as a sound track of its own. */
export async function muxTracks(file: string, waves: readonly string[]): Promise<string> {
  const inputs = waves.flatMap((wave) => ['-i', wave]);
  const maps = waves.flatMap((_, track) => ['-map', `${track}:a`]);
  await run('ffmpeg', ['-nostdin', '-v', 'error', '-y', ...inputs, ...maps, '-c', 'copy', file]);
  return file;
}
