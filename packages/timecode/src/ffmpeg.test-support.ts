import { execFileSync, spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import type { Rate } from './rate.ts';

const FFMPEG = 'ffmpeg';
const FFPROBE = 'ffprobe';

/** Whether ffmpeg and ffprobe can be run here. */
export function hasFfmpeg(): boolean {
  return [FFMPEG, FFPROBE].every((tool) => spawnSync(tool, ['-version']).status === 0);
}

/** A file that starts at a label. */
export interface Labelled {
  readonly label: string;
  readonly path: string;
}

/** One-picture QuickTime files that start at the given labels, all written by one ffmpeg. */
export function writeMovies(rate: Rate, movies: readonly Labelled[]): void {
  const options = '-map 0:v -frames:v 1 -c:v rawvideo -timecode'.split(' ');
  const outputs = movies.flatMap(({ label, path }) => [...options, label, path]);
  const source = `color=size=16x16:rate=${rate.numerator}/${rate.denominator},format=rgb24`;
  execFileSync(FFMPEG, ['-v', 'error', '-y', '-f', 'lavfi', '-i', source, ...outputs]);
}

/** What ffmpeg finds in each file: the four bytes of the tmcd sample as a signed number, and its own reading as a label. */
export function readMovies(
  movies: readonly Labelled[],
): readonly { readonly sample: number; readonly label: string }[] {
  const inputs = movies.flatMap(({ path }) => ['-i', path]);
  const outputs = movies.flatMap(({ path }, index) => [
    '-map',
    `${index}:d`,
    '-c',
    'copy',
    '-f',
    'data',
    `${path}.bin`,
  ]);
  const run = spawnSync(FFMPEG, ['-hide_banner', '-y', ...inputs, ...outputs], { encoding: 'utf8' });
  const [described] = run.stderr.split('Output #0');
  const labels = [...(described ?? '').matchAll(/\(tmcd [^]*?timecode *: (\S+)/g)].map((match) => match[1] ?? '');
  return movies.map(({ path }, index) => ({
    sample: readFileSync(`${path}.bin`).readInt32BE(0),
    label: labels[index] ?? '',
  }));
}

/** MPEG-2 streams with a timecode in front of every picture, which ffmpeg counts on from the first. */
export function writeLabelledPictures(rate: Rate, pictures: number, streams: readonly Labelled[]): void {
  const options = `-map 0:v -frames:v ${pictures} -c:v mpeg2video -g 1 -gop_timecode`.split(' ');
  const outputs = streams.flatMap(({ label, path }) => [...options, label, path]);
  const source = `color=size=16x16:rate=${rate.numerator}/${rate.denominator}`;
  execFileSync(FFMPEG, ['-v', 'error', '-y', '-f', 'lavfi', '-i', source, ...outputs]);
}

/** The labels of the pictures as ffprobe decodes them, in order. Its decoder shows a label one picture late: the first is missing. */
export function probeLabels(path: string): readonly string[] {
  const options = '-v error -show_entries frame_side_data=timecode -of csv=p=0'.split(' ');
  const shown = execFileSync(FFPROBE, [...options, path], { encoding: 'utf8', maxBuffer: 64 * 1024 * 1024 });
  return shown.match(/[0-9]{2}:[0-9]{2}:[0-9]{2}[:;][0-9]{2}/g) ?? [];
}
