import type { MediaFacts } from '@quayside/shoot';
import type { Described, Description } from '../library/ask-library.ts';
import { createdFrom, deviceFrom, reelFrom } from '../library/origin-facts.ts';
import { pictureFrom } from '../library/picture-facts.ts';
import { soundFrom } from '../library/sound-facts.ts';
import { NO_FACTS } from './damaged-facts.ts';

/** Streams without an index: their length is measured at their end, and estimated by who has not read that far. */
const UNINDEXED = new Set(['MPEG-TS', 'MPEG-PS', 'BDAV', 'MPEG Video', 'AVC', 'HEVC', 'MPEG Audio', 'ADTS']);

/** The facts as the library alone gives them. `isIsoMedia` tells whose word the creation date is. */
export function describedFacts({ tracks, sawAll }: Description, isIsoMedia: boolean): MediaFacts {
  const general = tracks.find(({ kind }) => kind === 'General');
  if (general === undefined) return NO_FACTS;
  const pictures = tracks.filter(({ kind }) => kind === 'Video').flatMap((track) => pictureFrom(track) ?? []);
  const sound = tracks.filter(({ kind }) => kind === 'Audio').flatMap((track) => soundFrom(track) ?? []);
  const isEstimate = !sawAll && UNINDEXED.has(general.text('Format') ?? '');
  const seconds = isEstimate ? null : general.number('Duration');
  const [picture = null] = isEstimate ? pictures.map((facts) => ({ ...facts, frameCount: null })) : pictures;
  return {
    ...NO_FACTS,
    kind: kindOf(pictures.length, sound.length),
    container: general.text('Format'),
    durationMs: seconds === null ? null : Math.round(Math.max(0, seconds) * 1e6) / 1e3,
    picture,
    startTimecode: startTimecodeFrom(tracks),
    sound: isEstimate ? sound.map((facts) => ({ ...facts, sampleCount: null })) : sound,
    device: deviceFrom(general),
    reel: reelFrom(general),
    created: createdFrom(general, isIsoMedia),
    // A file that it was not let read to its end looks cut short to it.
    damage: sawAll && general.extra['IsTruncated'] === 'Yes' ? [TRUNCATED] : [],
  };
}

const TRUNCATED: MediaFacts['damage'][number] = { kind: 'truncated', why: 'The file is shorter than it says.' };

function kindOf(pictures: number, sounds: number): MediaFacts['kind'] {
  if (pictures > 0) return 'picture';
  return sounds > 0 ? 'sound' : 'other';
}

function startTimecodeFrom(tracks: readonly Described[]): string | null {
  for (const track of tracks) {
    const label = track.text('TimeCode_FirstFrame');
    if (label !== null && /^\d\d:\d\d:\d\d[:;]\d{2,3}$/.test(label)) return label;
  }
  return null;
}
