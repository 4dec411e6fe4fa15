import type { Parcel, Roll } from '@quayside/shoot';
import { isAtRest, takingDestinations } from './activity.ts';
import { isBadCopy } from './is-bad-copy.ts';
import { rollNumbers } from './time-left.ts';
import { isAbsence } from './unsettle.ts';

/** One matter that people should hear of. `matter` names it, so that nobody is told the same thing twice. */
export interface Matter {
  readonly matter: string;
  readonly severity: 'info' | 'warning' | 'critical';
  readonly sentence: string;
}

/** The one matter of a roll worth telling now: its verdict, or once for each time that its drive left too early. Null while work goes on. */
export function matterToTell(roll: Roll): Matter | null {
  const isJudged = roll.judgementDue === roll.judged;
  if (!isJudged) return damageToTell(roll);
  if (roll.mount !== null && !isAtRest(roll)) return null;
  const drive = `${roll.recorder} (${roll.volume.label ?? roll.volume.key})`;
  if (roll.clearance.verdict === 'clear') {
    const isAgain = roll.mount === null && roll.told !== null && roll.told !== `visit-${roll.visit}-clear`;
    return {
      matter: `visit-${roll.visit}-clear`,
      severity: 'info',
      sentence: isAgain
        ? `All ${roll.fileCount} files of roll ${roll.id} of ${drive} are proven.`
        : `The drive of ${drive} is clear: all ${roll.fileCount} files of roll ${roll.id} are proven. It may be recorded over.`,
    };
  }
  const { reasons } = roll.clearance;
  const [first] = reasons;
  // Nobody is told that a service looks for its drives.
  if (first === undefined || first.code === 'VOLUME_SOUGHT') return null;
  if (isAbsence(first.code)) {
    const percent = Math.floor(rollNumbers(roll, null).fraction * 100);
    return {
      matter: `visit-${roll.visit}-away-${roll.absences}`,
      severity: 'warning',
      sentence: `HOLD the drive of ${drive}, do not record over it: ${first.sentence} ${percent} % of its work is done.`,
    };
  }
  const codes = reasons.map((reason) => reason.code.toLowerCase().replaceAll('_', '-'));
  return {
    matter: ['visit', roll.visit, 'hold', ...new Set(codes)].join('-'),
    severity: roll.mount === null ? 'warning' : 'critical',
    sentence: `HOLD the drive of ${drive}, do not record over it: ${first.sentence}`,
  };
}

/** Copies that were proven and are bad, while they are made anew: once for the destinations that have them. */
function damageToTell(roll: Roll): Matter | null {
  const { visit, clearance, id } = roll;
  if (clearance.verdict === 'clear') return null;
  const bad = clearance.reasons.filter(isBadCopy);
  const [first] = bad;
  if (first === undefined) return null;
  const names = new Set(bad.map(({ destination = '' }) => destination));
  const remedy = hasLostParcel(roll)
    ? 'No proven copy of it is left: connect its drive before that is recorded over.'
    : 'It is made anew from another proven copy, or from the drive.';
  return {
    matter: ['visit', visit, 'bad', ...[...names].toSorted()].join('-'),
    severity: 'critical',
    sentence: `A copy of roll ${id} was proven and is bad: ${first.sentence} ${remedy}`,
  };
}

/** Whether there is something of which nothing proves a copy any more, and that cannot be taken from its drive now. */
function hasLostParcel(roll: Roll): boolean {
  const taking = takingDestinations(roll);
  const isProven = ({ copies }: Parcel): boolean => taking.some((name) => copies[name]?.state === 'verified');
  return roll.mount === null && !roll.parcels.every(isProven);
}
