import type { ReportedFinding } from '@quayside/step-sdk';
import type { ChannelLevel, TrackLoudness } from './track-loudness.ts';

export interface FaultLimits {
  readonly silenceBelow: number;
  readonly clippingAbove: number;
}

/** What a person must know of a track: that it is silent, that one of its channels is dead, or that it is clipped. */
export function findFaults(path: string, track: TrackLoudness, limits: FaultLimits): readonly ReportedFinding[] {
  const { channels } = track;
  const where = `Sound track ${track.track + 1} of ${path}`;
  const silent = placesOf(channels, ({ peak }) => peak === null || peak < limits.silenceBelow);
  const clipped = placesOf(channels, (channel) => isClipped(channel, limits));
  const findings: ReportedFinding[] = [];
  if (silent.length === channels.length) findings.push(silence(where, channels, limits));
  else if (silent.length > 0) findings.push(deadChannel(where, silent, channels));
  if (clipped.length > 0) findings.push(clipping(where, clipped, channels));
  return findings;
}

/** On average so many samples in a row at the top: a wave that only just reaches it stands there for one or two. */
const SAMPLES_OF_A_CLIP = 3;

/** Cut flat at the top, or past full scale, as only lossy codings and floating point can tell. */
function isClipped({ peak, samplesAtPeak }: ChannelLevel, { clippingAbove }: FaultLimits): boolean {
  if (peak === null) return false;
  return peak > 0 || (peak >= clippingAbove && samplesAtPeak >= SAMPLES_OF_A_CLIP);
}

function silence(where: string, channels: readonly ChannelLevel[], { silenceBelow }: FaultLimits): ReportedFinding {
  return {
    code: 'SILENT',
    severity: 'warning',
    sentence: `${where} is silent: its highest sample is ${highest(channels)}, below ${silenceBelow} dBFS.`,
    remedy:
      'Check that the microphone or the cable was connected and its input not muted; use the sound of another recorder.',
  };
}

function deadChannel(where: string, dead: readonly number[], channels: readonly ChannelLevel[]): ReportedFinding {
  const others = channels.filter((_, place) => !dead.includes(place));
  return {
    code: 'DEAD_CHANNEL',
    severity: 'warning',
    sentence: `${where} has no sound on ${channelNames(dead)} of ${channels.length}, while ${others.length === 1 ? 'the other reaches' : 'the others reach up to'} ${highest(others)}.`,
    remedy:
      'Check the cable and the input of that channel before the next take; in the edit, use the channel that has sound.',
  };
}

function clipping(where: string, clipped: readonly number[], channels: readonly ChannelLevel[]): ReportedFinding {
  const loud = channels.filter((_, place) => clipped.includes(place));
  return {
    code: 'CLIPPED',
    severity: 'warning',
    sentence: `${where} is clipped on ${channelNames(clipped)}: it reaches ${highest(loud)} and is cut off there.`,
    remedy:
      'Turn the input down before the next take; listen to the loudest places, and use the sound of another recorder there.',
  };
}

function placesOf(channels: readonly ChannelLevel[], is: (channel: ChannelLevel) => boolean): readonly number[] {
  return channels.flatMap((channel, place) => (is(channel) ? [place] : []));
}

function channelNames(places: readonly number[]): string {
  return `channel${places.length > 1 ? 's' : ''} ${places.map((place) => place + 1).join(', ')}`;
}

function highest(channels: readonly ChannelLevel[]): string {
  const peaks = channels.flatMap(({ peak }) => (peak === null ? [] : [peak]));
  return peaks.length === 0 ? 'digital zero' : `${Math.max(...peaks).toFixed(1)} dBFS`;
}
