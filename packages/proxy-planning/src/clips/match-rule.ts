import type { Clip, PictureFacts } from '@quayside/shoot';
import { sizeOfText, textOfSize, turnedLike } from '../policy/picture-size.ts';
import type { ProxyCondition } from '../policy/proxy-policy.ts';
import type { ClipMeasures } from './clip-measures.ts';

export interface ClipToMatch {
  readonly clip: Clip;
  readonly picture: PictureFacts;
  readonly measures: ClipMeasures;
  /** The most that can be said of its groups. */
  readonly group: 'complete' | 'incomplete' | 'none';
}

/**
 * What of the clip meets the condition, as parts of a sentence, or null when any of it does not hold. An empty condition always
 * holds, with nothing to say.
 */
export function matchCondition(to: ClipToMatch, condition: ProxyCondition): readonly string[] | null {
  const said: string[] = [];
  for (const check of CHECKS) {
    const outcome = check(condition, to);
    if (outcome === false) return null;
    if (outcome !== null) said.push(outcome);
  }
  return said;
}

/** Null: nothing was asked. False: it does not hold. Else what holds. */
type Check = (condition: ProxyCondition, to: ClipToMatch) => string | false | null;

const CHECKS: readonly Check[] = [
  ({ codec }, { picture }) =>
    codec === undefined ? null : codec.some((one) => plain(one) === plain(picture.codec)) && `it is ${picture.codec}`,
  ({ largerThan }, { picture }) => {
    if (largerThan === undefined) return null;
    const box = turnedLike(sizeOfText(largerThan), picture);
    const isLarger = picture.width > box.width || picture.height > box.height;
    return isLarger && `it has ${textOfSize(picture)} pixels, more than ${largerThan}`;
  },
  ({ fasterThan }, { measures: { rate } }) => above(rate, fasterThan, 'frames in a second'),
  ({ slowerThan }, { measures: { rate } }) => below(rate, slowerThan, 'frames in a second'),
  ({ heavierThan }, { measures: { megabits } }) => above(megabits, heavierThan, 'megabits in a second'),
  ({ lighterThan }, { measures: { megabits } }) => below(megabits, lighterThan, 'megabits in a second'),
  ({ deeperThan }, { picture }) => above(picture.bitDepth, deeperThan, 'bits in a sample'),
  ({ recorder }, { clip }) =>
    recorder === undefined ? null : recorder.includes(clip.recorder) && `it is of ${clip.recorder}`,
  ({ group: wanted }, { group }) => {
    if (wanted === undefined) return null;
    if (wanted === 'none') return group === 'none' && 'it is in no sync group';
    if (wanted === 'any') return group !== 'none' && 'it is in a sync group';
    return group === 'complete' && 'it is in a sync group that all recorders have';
  },
  ({ longerThanSeconds }, { measures: { seconds } }) => above(seconds, longerThanSeconds, 'seconds'),
  ({ shorterThanSeconds }, { measures: { seconds } }) => below(seconds, shorterThanSeconds, 'seconds'),
];

function above(value: number | null, limit: number | undefined, unit: string): string | false | null {
  if (limit === undefined) return null;
  return value !== null && value > limit && `it has ${shown(value)} ${unit}, more than ${limit}`;
}

function below(value: number | null, limit: number | undefined, unit: string): string | false | null {
  if (limit === undefined) return null;
  return value !== null && value < limit && `it has ${shown(value)} ${unit}, less than ${limit}`;
}

function shown(value: number): string {
  return String(Number(value.toFixed(value < 100 ? 3 : 1)));
}

/** `H.264`, `h264` and `H-264` are one codec. */
function plain(codec: string): string {
  return codec.toLowerCase().replaceAll(/[^a-z0-9]/g, '');
}
