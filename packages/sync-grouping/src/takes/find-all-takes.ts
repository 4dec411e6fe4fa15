import type { PlacedClip } from '../clock/placed-clip.ts';
import { firstIndexWhere, listBy } from '../in-order.ts';
import { findTakes, isIn, type Take, type TakeTolerances } from './find-takes.ts';
import { joinSpans, type Span } from './join-spans.ts';

/**
 * The takes of a shoot. Cameras make takes; the program recording makes one only where no camera ran, sound only where
 * neither did, and a clip with a weak place only where it meets nothing. Everything else is attached to each take that it
 * ran through. Every clip is in one take or more.
 */
export function findAllTakes(clips: readonly PlacedClip[], tolerances: TakeTolerances): readonly Take[] {
  const ranks = listBy(clips, (clip) => (clip.confidence === 'weak' ? 'weak' : clip.timed.clip.role));
  const housed = new Set<PlacedClip>();
  const isHomeless = (clip: PlacedClip): boolean => !housed.has(clip);
  let takes: readonly Take[] = [];
  for (const rank of ['camera', 'program', 'sound', 'weak'] as const) {
    const ofRank = ranks.get(rank);
    if (ofRank === undefined) continue;
    const attached = attach(ofRank, takes, { tolerances, housed });
    const made = findTakes(ofRank.filter(isHomeless), tolerances);
    for (const take of made) for (const clip of [...take.own, ...take.passing]) housed.add(clip);
    // The middle file of a recording that ran on between two takes belongs to neither: it stands alone.
    const alone = joinSpans(ofRank.filter(isHomeless)).map(standAlone);
    takes = [...attached, ...made, ...alone].toSorted(compareTakes);
  }
  return takes;
}

/** Adds each clip to the takes that it ran through, and to `housed` if there is one. */
function attach(
  clips: readonly PlacedClip[],
  takes: readonly Take[],
  { tolerances, housed }: { readonly tolerances: TakeTolerances; readonly housed: Set<PlacedClip> },
): readonly Take[] {
  const joined = new Map<Take, PlacedClip[]>();
  const chains = new Map([...listBy(takes, (take) => take.chain)].map(([chain, own]) => [chain, withReach(own)]));
  for (const clip of clips) {
    const { own, reach } = chains.get(clip.chain) ?? { own: [], reach: [] };
    for (let at = firstIndexWhere(reach, (end) => end > clip.start); at < own.length; at += 1) {
      const take = own[at];
      if (take === undefined || take.start >= clip.end) break;
      if (!isIn(clip, take, tolerances)) continue;
      housed.add(clip);
      const more = joined.get(take);
      if (more === undefined) joined.set(take, [clip]);
      else more.push(clip);
    }
  }
  return takes.map((take) => {
    const more = joined.get(take);
    return more === undefined ? take : { ...take, passing: [...take.passing, ...more] };
  });
}

/** With, for each take, how far it and all before it reach: growing, so that it can be searched. */
function withReach(own: readonly Take[]): { readonly own: readonly Take[]; readonly reach: readonly number[] } {
  let furthest = -Infinity;
  return { own, reach: own.map((take) => (furthest = Math.max(furthest, take.end))) };
}

function standAlone({ chain, start, end, clips }: Span): Take {
  return { chain, start, end, own: clips, passing: [] };
}

function compareTakes(left: Take, right: Take): number {
  return left.chain - right.chain || left.start - right.start || left.end - right.end;
}
