import { StepFailure } from '@quayside/step-sdk';
import { readSummaries } from './read-summaries.ts';
import { type FfmpegControls, runFfmpeg } from './run-ffmpeg.ts';
import type { TrackLoudness } from './track-loudness.ts';
import { neutralLayout, undeclaredChannels } from './undeclared-channels.ts';

export interface TrackQuestion {
  readonly ffmpeg: string;
  /** Absolute. */
  readonly file: string;
  /** How many sound tracks its facts name. */
  readonly trackCount: number;
}

/**
 * Measures all sound tracks of a file in one reading.
 * @throws StepFailure `FFMPEG_MISSING`, `NOT_MEASURED` with what ffmpeg says, `NOT_UNDERSTOOD` for an answer in another form
 */
export async function measureTracks(
  { ffmpeg, file, trackCount }: TrackQuestion,
  controls: FfmpegControls,
): Promise<readonly TrackLoudness[]> {
  const tracks = Array.from({ length: trackCount }, (_, track) => track);
  const plain = tracks.flatMap((track) => measured(track, null));
  const first = await runFfmpeg(ffmpeg, [...input(file), ...plain], controls);
  if (first.code === 0) return readSummaries(first.said, trackCount);
  // It has stopped at the first sample: what it says of the tracks tells which of them it takes for nothing that it knows.
  const undeclared = undeclaredChannels(first.said);
  if (undeclared.every((channels) => channels === null)) throw notMeasured(first);
  const named = tracks.flatMap((track) => measured(track, undeclared[track] ?? null));
  const second = await runFfmpeg(ffmpeg, [...input(file), ...named], controls);
  if (second.code !== 0) throw notMeasured(second);
  return readSummaries(second.said, trackCount);
}

function input(file: string): readonly string[] {
  return [
    // A file that names others, as a playlist does, reaches nothing but files.
    '-protocol_whitelist',
    'file',
    // The separate channels of a sound recorder are no surround sound, however many they are.
    '-guess_layout_max',
    '2',
    '-i',
    `file:${file}`,
  ];
}

/** The filters are named, so that what they say can be told apart. Frame by frame they say nothing. */
function measured(track: number, undeclared: number | null): readonly string[] {
  const layout = undeclared === null ? [] : [neutralLayout(undeclared)];
  const levels = `astats@track${track}=measure_overall=none:measure_perchannel=Peak_level+RMS_level+Flat_factor`;
  const loudness = `ebur128@track${track}=peak=true:framelog=verbose`;
  return ['-map', `0:a:${track}`, '-filter:a', [...layout, levels, loudness].join(','), '-f', 'null', '-'];
}

function notMeasured({ said, code }: { readonly said: string; readonly code: number }): StepFailure {
  const lines = said.split('\n').map((line) => line.trim());
  const reason = lines.findLast((line) => line !== '' && line !== 'Conversion failed!') ?? `it ended with ${code}`;
  const sentence = `The sound could not be measured: ffmpeg says "${reason.slice(0, 300)}". Play the copy and listen to it.`;
  return new StepFailure({ code: 'NOT_MEASURED', sentence, retry: 'later' });
}
