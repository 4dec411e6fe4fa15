import type { MediaFacts } from '@quayside/shoot';
import type { IsoMedia } from './read-iso-media.ts';

/** What shows from the boxes alone that a QuickTime or MP4 file was never finished, or is not all there. */
export function isoDamage({ topLevel, tracks }: IsoMedia, sizeInBytes: number): MediaFacts['damage'] {
  const { index, cutBox, isStill } = topLevel;
  const damage: MediaFacts['damage'] = [];
  if (index === null && !isStill) damage.push({ kind: 'no-index', why: NO_INDEX });
  if (cutBox !== null) {
    const why = `Its part "${cutBox.type}" ends at byte ${cutBox.end}, but the file ends at byte ${sizeInBytes}.`;
    damage.push({ kind: 'truncated', why });
    if (cutBox === index) damage.push({ kind: 'no-index', why: 'The index itself is cut short.' });
    return damage;
  }
  const mediaEnd = Math.max(0, ...tracks.map(({ place }) => place?.end ?? 0));
  if (mediaEnd > sizeInBytes) {
    damage.push({
      kind: 'truncated',
      why: `Its index names media up to byte ${mediaEnd}, but the file ends at byte ${sizeInBytes}.`,
    });
  }
  return damage;
}

const NO_INDEX =
  'It has no index (moov), so it cannot be played: the recording was not finished, or its end was not copied.';
