import { execFile, execFileSync, spawnSync } from 'node:child_process';
import { mkdtemp, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import type { MediaFacts } from '@quayside/shoot';
import { openFileBytes } from './file-bytes/open-file-bytes.ts';
import { type AskLibrary, loadLibrary } from './library/ask-library.ts';
import { parseFacts } from './parser/parse-facts.ts';

const run = promisify(execFile);

/** Without these tools there is no media to read, and nobody to contradict us. */
export const hasFfmpeg = ['ffmpeg', 'ffprobe'].every((tool) => spawnSync(tool, ['-version']).status === 0);
export const hasMediainfo = spawnSync('mediainfo', ['--version']).error === undefined;

/** Why media tests are skipped, for their titles. */
export const SKIPPED = hasFfmpeg ? '' : ' (skipped: ffmpeg and ffprobe are not installed)';

interface TestFolder {
  [Symbol.asyncDispose](): Promise<void>;
  readonly path: string;
}

/** A folder of its own, removed at the end of the scope. */
export async function temporaryFolder(): Promise<TestFolder> {
  const path = await mkdtemp(join(tmpdir(), 'quayside-facts-'));
  return { path, [Symbol.asyncDispose]: () => rm(path, { recursive: true, force: true }) };
}

/** Makes a file with ffmpeg. */
export async function make(file: string, ...groups: readonly string[]): Promise<string> {
  await run('ffmpeg', ['-nostdin', '-v', 'error', '-y', ...groups.flatMap((group) => group.split(' ')), file]);
  return file;
}

/** ffmpeg's arguments for a small moving picture. */
export function picture(rate: string, frames: number): string {
  return `-f lavfi -i testsrc2=size=128x72:rate=${rate},trim=end_frame=${frames}`;
}

/** ffmpeg's arguments for a tone. */
export function tone(samples: number, sampleRate = 48_000): string {
  return `-f lavfi -i sine=sample_rate=${sampleRate},atrim=end_sample=${samples}`;
}

export const PRORES_LT = '-c:v prores_ks -profile:v 1 -pix_fmt yuv422p10le';
export const H264 = '-c:v libx264 -preset ultrafast -pix_fmt yuv420p';

let library: Promise<AskLibrary> | null = null;

/** The facts, and how many bytes were read for them, in this process. */
export async function parse(file: string): Promise<{ readonly facts: MediaFacts; readonly bytesRead: number }> {
  library ??= loadLibrary();
  const bytes = openFileBytes(file);
  try {
    return { facts: await parseFacts(bytes, await library), bytesRead: bytes.bytesRead() };
  } finally {
    bytes.close();
  }
}

export async function factsOf(file: string): Promise<MediaFacts> {
  return (await parse(file)).facts;
}

export async function sizeOf(file: string): Promise<number> {
  return (await stat(file)).size;
}

interface ProbedStream {
  readonly codec_type: string;
  readonly r_frame_rate: string;
  readonly nb_frames: string;
  readonly nb_read_frames?: string;
  readonly duration_ts: number;
  readonly tags?: Readonly<Record<string, string>>;
}

/** The second opinion: what ffprobe, which shares no code with us or our library, finds. `decoded` has it count pictures by decoding. */
export function ffprobe(file: string, decoded = false): readonly ProbedStream[] {
  const count = decoded ? ['-count_frames'] : [];
  const text = execFileSync('ffprobe', ['-v', 'error', ...count, '-of', 'json', '-show_streams', file], {
    encoding: 'utf8',
  });
  return (JSON.parse(text) as { streams: ProbedStream[] }).streams;
}

/** The `mediainfo` command of the system, another version of the library, for one field of one kind of track. */
export function mediainfo(file: string, kind: string, field: string): string {
  return execFileSync('mediainfo', [`--Output=${kind};%${field}%`, file], { encoding: 'utf8' }).trim();
}
