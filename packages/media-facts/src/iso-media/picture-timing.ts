import type { Ratio } from '@quayside/shoot';
import type { FileBytes } from '../file-bytes/file-bytes.ts';
import type { Track } from './read-track.ts';
import { labelOfSample } from './timecode-label.ts';

/** Pictures of a track that are shown: what its edit list hides is not counted. Null when the tables could not be read whole. */
export function countPictures(track: Track): number | null {
  if (track.shownTicks === null) return null;
  const hiddenTicks = track.sampleTicks - track.shownTicks;
  if (hiddenTicks === 0 || track.sampleTicks === 0) return track.sampleCount;
  return Math.max(0, track.sampleCount - Math.round((hiddenTicks * track.sampleCount) / track.sampleTicks));
}

/** How long a track is shown, in milliseconds. Null when the tables could not be read whole. */
export function shownMs({ shownTicks, timescale }: Track): number | null {
  return shownTicks === null || timescale === 0 ? null : (shownTicks * 1000) / timescale;
}

/** Samples of one channel that are heard, at the sound's own rate. Null when the tables could not be read whole. */
export function countSoundSamples(track: Track, sampleRate: number | null): number | null {
  if (track.shownTicks === null || sampleRate === null || track.timescale === 0) return null;
  return Math.round((track.shownTicks * sampleRate) / track.timescale);
}

/** The label of the first picture shown, from the timecode track that belongs to it. Null when there is none to be read. */
export function findStartTimecode(file: FileBytes, tracks: readonly Track[], picture: Track): string | null {
  const timecodeTrack = findTimecodeTrack(tracks, picture);
  if (timecodeTrack?.timecode === null || timecodeTrack?.place == null) return null;
  const { timecode, place, headTicks } = timecodeTrack;
  const sample = file.readAt(place.first, timecode.isLong ? 8 : 4);
  const { rate } = picture.pace;
  const trimmedFrames =
    framesIn(picture.headTicks, picture.timescale, rate) + framesIn(headTicks, timecodeTrack.timescale, rate);
  return labelOfSample(timecode, sample, { rate, trimmedFrames });
}

/** The reel of the timecode track, which is where editors look for it first. */
export function findReel(tracks: readonly Track[], picture: Track): string | null {
  return findTimecodeTrack(tracks, picture)?.timecode?.reel ?? null;
}

function findTimecodeTrack(tracks: readonly Track[], picture: Track): Track | null {
  const candidates = tracks.filter(({ timecode }) => timecode !== null);
  const named = candidates.find(({ id }) => picture.timecodeTrackIds.includes(id));
  return named ?? (candidates.length === 1 ? (candidates[0] ?? null) : null);
}

function framesIn(ticks: number, timescale: number, rate: Ratio | null): number {
  if (ticks === 0 || timescale === 0 || rate === null) return 0;
  return Math.round((ticks * rate.numerator) / (timescale * rate.denominator));
}
