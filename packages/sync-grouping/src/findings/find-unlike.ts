import type { Clip } from '@quayside/shoot';
import { compareText, listBy } from '../in-order.ts';
import { labelRateOf } from '../reading/label-rate.ts';
import type { FindingDraft } from './finding-draft.ts';
import type { GroupingFindingCode } from './grouping-findings.ts';

/** A property in which all recorders of a shoot should agree. */
interface Property {
  readonly code: GroupingFindingCode;
  /** What it is, for a sentence: "its frame rate is". */
  readonly name: string;
  /** The value of a clip as text, or null where it has none to compare. */
  readonly valueOf: (clip: Clip) => string | null;
  readonly isCompared: (clip: Clip) => boolean;
}

const isCamera = (clip: Clip): boolean => clip.role === 'camera' && clip.facts.picture !== null;
const hasPicture = (clip: Clip): boolean => clip.role !== 'sound' && clip.facts.picture !== null;

/** The switcher's recording may well have another size and codec; its rate and scan must suit the cameras'. */
const PROPERTIES: readonly Property[] = [
  { code: 'FRAME_RATE_UNLIKE', name: 'frame rate', valueOf: rateOf, isCompared: hasPicture },
  {
    code: 'SCAN_UNLIKE',
    name: 'scan type',
    valueOf: (clip) => clip.facts.picture?.scan ?? null,
    isCompared: hasPicture,
  },
  { code: 'FRAME_SIZE_UNLIKE', name: 'frame size', valueOf: sizeOf, isCompared: isCamera },
  { code: 'CODEC_UNLIKE', name: 'codec', valueOf: (clip) => clip.facts.picture?.codec ?? null, isCompared: isCamera },
  {
    code: 'SOUND_MISSING',
    name: 'sound',
    valueOf: (clip) => (clip.facts.sound.length > 0 ? 'there' : 'missing'),
    isCompared: isCamera,
  },
];

/** Recorders and clips that are set up unlike the others: one finding for a recorder that is so throughout, else one a clip. */
export function findUnlike(clips: readonly Clip[]): readonly FindingDraft[] {
  return [...PROPERTIES.flatMap((property) => compare(clips, property)), ...findMixedCounting(clips)];
}

/** Drop-frame and non-drop are compared within one frame rate: other rates are another finding. */
function findMixedCounting(clips: readonly Clip[]): readonly FindingDraft[] {
  if (!clips.some((clip) => countingOf(clip) === 'drop-frame')) return [];
  return [...listBy(clips.filter(hasPicture), rateOf).values()].flatMap((ofRate) =>
    compare(ofRate, { code: 'DROP_FRAME_MIXED', name: 'timecode', valueOf: countingOf, isCompared: hasPicture }),
  );
}

function compare(clips: readonly Clip[], property: Property): readonly FindingDraft[] {
  const valueOf = (clip: Clip): string | null => (property.isCompared(clip) ? property.valueOf(clip) : null);
  const found = new Set<string | null>([null]);
  for (const clip of clips) found.add(valueOf(clip));
  // Almost always: they all agree, or there is nothing to compare.
  if (found.size <= 2) return [];
  const compared = clips.flatMap((clip) => {
    const value = valueOf(clip);
    return value === null ? [] : [{ clip, value }];
  });
  const values = listBy(compared, (one) => one.value);
  const usual = mostUsual(values);
  if (property.code === 'SOUND_MISSING' && usual === 'missing') return [];
  return [...listBy(compared, (one) => one.clip.recorder)].flatMap(([recorder, own]) => {
    const unlike = own.filter((one) => one.value !== usual);
    if (unlike.length === 0) return [];
    const isThroughout = unlike.length === own.length && own.length > 1;
    return isThroughout
      ? unlikeThroughout(recorder, unlike, { property, usual })
      : unlike.map((one) => unlikeClip(one, { property, usual }));
  });
}

function unlikeThroughout(
  recorder: string,
  unlike: readonly { readonly clip: Clip; readonly value: string }[],
  { property, usual }: { readonly property: Property; readonly usual: string },
): readonly FindingDraft[] {
  return [...listBy(unlike, (one) => one.value)].map(([value, ones]) => ({
    code: property.code,
    recorder,
    groupId: null,
    clipIds: ones.map((one) => one.clip.id),
    detail: value,
    why: `The ${property.name} of ${recorder} is ${value} in ${ones.length} clips; the others' is ${usual}.`,
  }));
}

function unlikeClip(
  { clip, value }: { readonly clip: Clip; readonly value: string },
  { property, usual }: { readonly property: Property; readonly usual: string },
): FindingDraft {
  const why = `The ${property.name} of ${clip.path} (${clip.recorder}) is ${value}; the others' is ${usual}.`;
  return { code: property.code, recorder: clip.recorder, groupId: null, clipIds: [clip.id], clipId: clip.id, why };
}

/** The value that most recorders have, then most clips. */
function mostUsual(values: ReadonlyMap<string, readonly { readonly clip: Clip }[]>): string {
  const [best] = [...values].toSorted(
    ([leftValue, left], [rightValue, right]) =>
      countRecorders(right) - countRecorders(left) || right.length - left.length || compareText(leftValue, rightValue),
  );
  return best?.[0] ?? '';
}

function countRecorders(ones: readonly { readonly clip: Clip }[]): number {
  return new Set(ones.map((one) => one.clip.recorder)).size;
}

/** As people say it, so that 2997/100 and 30000/1001 are one rate. */
function rateOf({ facts }: Clip): string | null {
  const rate = facts.picture?.rate;
  if (rate == null) return null;
  return labelRateOf(rate, false)?.name.split(' ')[0] ?? `${rate.numerator}/${rate.denominator}`;
}

function sizeOf({ facts }: Clip): string | null {
  return facts.picture === null ? null : `${facts.picture.width}x${facts.picture.height}`;
}

function countingOf({ facts }: Clip): string | null {
  if (facts.startTimecode === null) return null;
  return /[;.]/.test(facts.startTimecode) ? 'drop-frame' : 'non-drop';
}
