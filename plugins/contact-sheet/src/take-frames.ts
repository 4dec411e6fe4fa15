import { readFile, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { runFfmpeg } from './run-ffmpeg.ts';

export interface FrameOrder {
  readonly ffmpeg: string;
  /** Absolute. */
  readonly file: string;
  /** Frames per second. */
  readonly rate: { readonly numerator: number; readonly denominator: number };
  /** Which, counted from 0. */
  readonly frames: readonly number[];
  /** In pixels. */
  readonly width: number;
  readonly folder: string;
  readonly signal: AbortSignal;
}

export interface TakenFrame {
  /** What the file's own time stamps say that it is; null when they are not those of a steady rate. */
  readonly frame: number | null;
  readonly jpeg: Buffer;
}

/**
 * Takes frames out of a clip, null for those that cannot be read. Which frame each is comes from its time stamp in the file,
 * not from what was asked for: seeking is not exact in every container.
 * @throws StepFailure `FFMPEG_MISSING`
 */
export async function takeFrames(order: FrameOrder): Promise<readonly (TakenFrame | null)[]> {
  const { ffmpeg, file, frames, signal } = order;
  const said = await runFfmpeg(ffmpeg, ['-copyts', ...input(file), ...output(0, 'null'), '-f', 'null', '-'], signal);
  const firstSecond = secondOf(said, 0);
  if (firstSecond === null) return frames.map(() => null);
  const clock = { firstSecond, beginning: beginningOf(said) };
  const taken = await takeAt(order, clock, 0);
  // Where a seek ends behind the wanted frame, or where nothing can be decoded yet, some seconds more before it help.
  const again = frames.filter((frame, place) => taken[place]?.frame !== frame);
  if (again.length === 0) return taken;
  const better = await takeAt({ ...order, frames: again }, clock, RUN_UP_SECONDS);
  return taken.map((one, place) => better[again.indexOf(frames[place] ?? -1)] ?? one);
}

/** Longer than the groups of pictures that recorders write. */
const RUN_UP_SECONDS = 10;

interface ClipClock {
  /** When the picture begins, by the file's own clock. */
  readonly firstSecond: number;
  /** When the file begins, of which the picture may be a part only. */
  readonly beginning: number;
}

async function takeAt(order: FrameOrder, clock: ClipClock, runUp: number): Promise<readonly (TakenFrame | null)[]> {
  const { ffmpeg, file, rate, frames, width, folder, signal } = order;
  const perSecond = rate.numerator / rate.denominator;
  const starts = frames.map((frame) => clock.firstSecond + (frame - 0.5) / perSecond);
  const files = frames.map((_, place) => join(folder, `frame-${place}.jpg`));
  const inputs = starts.flatMap((second) => {
    // What is sought is counted from the beginning of the file.
    const seek = Math.max(0, second - clock.beginning - runUp);
    return ['-ss', seek.toFixed(6), ...input(file)];
  });
  const outputs = files.flatMap((path, place) => {
    const from = `select='gte(t,${starts[place]?.toFixed(6)})'`;
    return [...output(place, scaled(width), from), '-q:v', '4', '-update', '1', path];
  });
  const said = await runFfmpeg(ffmpeg, ['-copyts', ...inputs, ...outputs], signal);
  const taken = files.map(async (path, place) => {
    const jpeg = await readFile(path).catch(() => null);
    await rm(path, { force: true });
    const second = secondOf(said, place);
    if (jpeg === null || jpeg.length === 0 || second === null) return null;
    const frame = (second - clock.firstSecond) * perSecond;
    return { jpeg, frame: Math.abs(frame - Math.round(frame)) < 0.25 ? Math.round(frame) : null };
  });
  return Promise.all(taken);
}

/** A file that names others, as a playlist does, reaches nothing but files. One thread is enough for a few frames. */
function input(file: string): readonly string[] {
  return ['-protocol_whitelist', 'file', '-threads', '1', '-i', `file:${file}`];
}

function output(place: number, filter: string, from = 'null'): readonly string[] {
  const filters = `${from},showinfo@frame${place}=checksum=0,${filter}`;
  return ['-map', `${place}:v:0`, '-frames:v', '1', '-fps_mode', 'passthrough', '-filter:v', filters];
}

/** Square pixels, and as wide as asked for. */
function scaled(width: number): string {
  return `scale=w=iw*sar:h=ih,setsar=1,scale=w=${width}:h=-2`;
}

function beginningOf(said: string): number {
  return Number(/^ *Duration: .*, start: (-?[\d.]+)/m.exec(said)?.[1] ?? 0);
}

/** When the frame that a filter let through is shown, by the file's own clock, exactly. */
function secondOf(said: string, place: number): number | null {
  const name = `^\\[showinfo@frame${place} @ [^\\]]*\\]`;
  const base = new RegExp(`${name} config in time_base: (\\d+)/(\\d+)`, 'm').exec(said);
  const stamp = new RegExp(`${name} n: *0 pts: *(-?\\d+)`, 'm').exec(said);
  if (base === null || stamp === null) return null;
  return (Number(stamp[1]) * Number(base[1])) / Number(base[2]);
}
