import type { MediaFacts, SoundFacts } from '@quayside/shoot';
import type { Gaps } from '../iso-media/sample-times.ts';
import { soundMs } from './duration.ts';

/** Sound is stored in packets and stopped by hand: a whole recorder's sound may end this much before its picture. */
const SOUND_MAY_END_EARLIER_MS = 100;

/** Pictures that were lost while recording: the one before each gap stays as long as several. */
export function gapDamage(gaps: Gaps | null): MediaFacts['damage'] {
  if (gaps === null) return [];
  const why = `Pictures missing: ${gaps.missingPictures}, in ${gaps.count} gaps, the first after picture ${gaps.firstAt + 1}.`;
  return [{ kind: 'frame-gaps', why }];
}

/** A sound track that ends before the pictures do. */
export function soundShortDamage(pictureMs: number | null, sound: readonly SoundFacts[]): MediaFacts['damage'] {
  if (pictureMs === null) return [];
  const short = sound.flatMap((track, index) => {
    const missingMs = pictureMs - (soundMs(track) ?? pictureMs);
    return missingMs > SOUND_MAY_END_EARLIER_MS ? [`track ${index + 1} by ${(missingMs / 1000).toFixed(2)} s`] : [];
  });
  return short.length === 0
    ? []
    : [{ kind: 'sound-short', why: `Sound ends before the picture: ${short.join(', ')}.` }];
}
