import type { Clearance, Roll } from '@quayside/shoot';

/**
 * Whether a roll can have a verdict now: its drive is there to be compared with its copies, or it was clear when it left and
 * what was on it then is known.
 */
export function canBeJudged({ mount, clearedAt }: Pick<Roll, 'mount' | 'clearedAt'>): boolean {
  return mount !== null || clearedAt !== null;
}

/** Gives a roll its verdict. One that is clear again without its drive is so as of the moment when that was seen last. */
export function noteVerdict(roll: Roll, clearance: Clearance): Roll {
  if (roll.mount !== null || roll.clearedAt === null || clearance.verdict === 'hold') return { ...roll, clearance };
  const cautions = [...clearance.cautions, MENDED];
  return { ...roll, clearance: { ...clearance, judgedAt: roll.clearedAt, cautions }, clearedAt: null };
}

const MENDED = 'A copy was found bad after that and has been made anew and proven, without the drive.';
