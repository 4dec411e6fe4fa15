import { addRationals, compareRationals, type Rational, rational } from '@quayside/timecode';
import type { GroupMember } from '@quayside/sync-grouping';
import { compareText } from '../in-order.ts';

/** A member and where its part begins on a timeline, in seconds after the timeline's start. */
export interface LaidMember {
  readonly member: GroupMember;
  readonly start: Rational;
}

/**
 * Members on as few rows as hold them without overlapping, each row in order of time; what does not fit on the first row goes
 * to the next. Independent of the members' order.
 */
export function layTracks(members: readonly LaidMember[]): readonly (readonly LaidMember[])[] {
  const rows: { readonly laid: LaidMember[]; end: Rational }[] = [];
  for (const laid of members.toSorted(compareLaid)) {
    const end = endOf(laid);
    const row = rows.find((one) => compareRationals(one.end, laid.start) <= 0);
    if (row === undefined) {
      rows.push({ laid: [laid], end });
      continue;
    }
    row.laid.push(laid);
    row.end = end;
  }
  return rows.map((row) => row.laid);
}

/** Where a laid member's part ends, in seconds after the timeline's start. */
export function endOf({ member, start }: LaidMember): Rational {
  const { length, rate } = member.range;
  // One step at a time: the product of a day's samples and a denominator still fits, and `rational` checks it.
  return addRationals(start, rational(length * rate.denominator, rate.numerator));
}

function compareLaid(left: LaidMember, right: LaidMember): number {
  return compareRationals(left.start, right.start) || compareText(left.member.clipId, right.member.clipId);
}
