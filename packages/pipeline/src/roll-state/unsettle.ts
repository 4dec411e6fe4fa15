import type { Clearance, HoldReason, Instant, Roll } from '@quayside/shoot';
import { canBeJudged } from './verdict.ts';

/**
 * Takes `clear` away and has the roll judged again; while its drive is away that can only wait for the drive, but for one that
 * was clear when it left.
 */
export function unsettle(roll: Roll, reason: keyof typeof UNSETTLED, now: Instant): Roll {
  const judgementDue = roll.judgementDue + 1;
  if (canBeJudged(roll)) return { ...roll, judgementDue, clearance: hold(reason, now) };
  return { ...roll, judgementDue, judged: judgementDue, clearance: awayHold('VOLUME_AWAY', [], now) };
}

const UNSETTLED = {
  IN_PROGRESS: 'The footage is still being copied and proven; wait for the verdict.',
  JUDGEMENT_DUE: 'The drive is back and is being checked again; wait for the verdict.',
  VOLUME_CHANGED: 'The content of the drive has changed; wait until it has settled and is copied.',
} as const;

/** Whether a reason only says that a verdict is still to come. */
export function isPassing(code: string): boolean {
  return code in UNSETTLED;
}

/** The verdict of a roll that is not judged yet. */
export function hold(code: keyof typeof UNSETTLED, now: Instant): Clearance {
  return { verdict: 'hold', judgedAt: now, reasons: [{ code, sentence: UNSETTLED[code] }] };
}

/** Why a drive cannot be read: it has left, it is there and answers nothing, or nobody has looked for it yet. */
export type Absence = keyof typeof ABSENCES;

const ABSENCES = {
  VOLUME_AWAY: 'The drive left before its footage was proven. Connect it again; the work goes on by itself.',
  VOLUME_SILENT:
    'The drive is connected, but nothing on it can be read. Check its cable, its reader and its power; the work goes on by itself when it answers again.',
  VOLUME_SOUGHT: 'The service has started and looks for its drives; wait a moment.',
} as const;

export function isAbsence(code: string): code is Absence {
  return code in ABSENCES;
}

/** The verdict of a roll whose drive cannot be read, with what was known to speak against it before. */
export function awayHold(code: Absence, known: readonly HoldReason[], now: Instant): Clearance {
  return { verdict: 'hold', judgedAt: now, reasons: [{ code, sentence: ABSENCES[code] }, ...known] };
}
