import { StepFailure } from '@quayside/step-sdk';
import { type ChannelLevel, TrackLoudness } from './track-loudness.ts';

/**
 * Reads what the filters `ebur128@trackN` and `astats@trackN` say at their end. Every figure of every track must be there in
 * the form that ffmpeg writes.
 * @throws StepFailure `NOT_UNDERSTOOD` that names what is missing
 */
export function readSummaries(said: string, trackCount: number): readonly TrackLoudness[] {
  return Array.from({ length: trackCount }, (_, track) =>
    TrackLoudness.parse({ track, ...loudnessIn(said, track), channels: channelsIn(said, track) }),
  );
}

/** BS.1770's absolute gate: ffmpeg starts from it, so it is what stands there when nothing was above it. */
const ABSOLUTE_GATE = -70;

function loudnessIn(said: string, track: number): Omit<TrackLoudness, 'track' | 'channels'> {
  // ffmpeg makes the filters once to try them, and these sum up nothing: the last summary is the one that counts.
  const [, summary] = said.split(new RegExp(`^\\[ebur128@track${track} @ [^\\]]*\\] Summary:\\s*$`, 'm')).slice(-2);
  const [, integrated, range, truePeak] = SUMMARY.exec(summary ?? '') ?? [];
  const loudness = numberIn(integrated, `the loudness of track ${track + 1}`);
  return {
    integrated: loudness === null || loudness <= ABSOLUTE_GATE ? null : loudness,
    range: numberIn(range, `the loudness range of track ${track + 1}`) ?? 0,
    truePeak: numberIn(truePeak, `the true peak of track ${track + 1}`),
  };
}

const NUMBER = '(-?\\d+\\.\\d+|-?inf)';
const SUMMARY = new RegExp(
  `^\\s*Integrated loudness:\\s+I:\\s+${NUMBER} LUFS\\s+Threshold:\\s+\\S+ LUFS` +
    `\\s+Loudness range:\\s+LRA:\\s+${NUMBER} LU\\s+Threshold:\\s+\\S+ LUFS\\s+LRA low:\\s+\\S+ LUFS\\s+LRA high:\\s+\\S+ LUFS` +
    `\\s+True peak:\\s+Peak:\\s+${NUMBER} dBFS`,
);

function channelsIn(said: string, track: number): readonly ChannelLevel[] {
  const line = new RegExp(`^\\[astats@track${track} @ [^\\]]*\\] (.+): (\\S+)$`, 'gm');
  const channels: Record<string, string>[] = [];
  for (const [, name = '', value = ''] of said.matchAll(line)) {
    // Channels are counted from 1; what was said before the first of them was no measurement.
    if (name === 'Channel' && value === '1') channels.length = 0;
    if (name === 'Channel') channels.push({});
    else Object.assign(channels.at(-1) ?? {}, { [name]: value });
  }
  if (channels.length === 0) throw notUnderstood(`the channels of track ${track + 1}`);
  return channels.map((channel, place) => {
    const what = (name: string): string => `${name} of channel ${place + 1} of track ${track + 1}`;
    const flatness = numberIn(channel['Flat factor'], what('the flatness'));
    return {
      peak: numberIn(channel['Peak level dB'], what('the peak')),
      rms: numberIn(channel['RMS level dB'], what('the level')),
      samplesAtPeak: flatness === null ? 0 : 10 ** (flatness / 20),
    };
  });
}

/** A number of decibels as ffmpeg writes it; null for minus infinity. */
function numberIn(text: string | undefined, what: string): number | null {
  if (text === '-inf') return null;
  // Minus zero is zero.
  if (text !== undefined && /^-?\d+(\.\d+)?$/.test(text)) return Number(text) + 0;
  throw notUnderstood(what);
}

function notUnderstood(what: string): StepFailure {
  return new StepFailure({
    code: 'NOT_UNDERSTOOD',
    sentence: `ffmpeg did not tell ${what} in the form that is known. Install another ffmpeg (5.1 or later), or tell the plugin's authors.`,
    retry: 'never',
  });
}
