import type { Clearance, Instant, Roll } from '@quayside/shoot';

/** Takes `clear` away and has the roll judged again. */
export function unsettle(roll: Roll, reason: keyof typeof UNSETTLED, now: Instant): Roll {
  return { ...roll, judgementDue: roll.judgementDue + 1, clearance: hold(reason, now) };
}

const UNSETTLED = {
  IN_PROGRESS: 'The footage is still being copied and proven; wait for the verdict.',
  JUDGEMENT_DUE: 'The drive is back and is being checked again; wait for the verdict.',
  VOLUME_CHANGED: 'The content of the drive has changed; wait until it has settled and is copied.',
} as const;

/** The verdict of a roll that is not judged yet. */
export function hold(code: keyof typeof UNSETTLED, now: Instant): Clearance {
  return { verdict: 'hold', judgedAt: now, reasons: [{ code, sentence: UNSETTLED[code] }] };
}
