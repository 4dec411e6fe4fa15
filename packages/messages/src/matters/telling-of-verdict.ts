import type { Instant, Roll, Severity } from '@quayside/shoot';
import type { Telling } from '../message.ts';

/** A matter of a roll as the pipeline words it. */
export interface RollMatter {
  readonly matter: string;
  readonly severity: Severity;
  readonly sentence: string;
}

/**
 * The verdict of a roll as people should hear it. Its matter goes by what the drive held, not by the count of its visits:
 * that count begins anew when the view in Redis was lost, and what was told before is not to be told again then.
 */
export function tellingOfVerdict(roll: Roll, { matter, severity, sentence }: RollMatter, now: Instant): Telling {
  const bare = matter.replace(/^visit-\d+-/, '').replace(/^away-\d+$/, 'away');
  const isClear = bare === 'clear';
  return {
    thread: `roll/${roll.id}`,
    matter: bare === 'away' ? bare : `${bare}@${roll.fingerprint}`,
    message: {
      kind: isClear ? 'roll.clear' : bare === 'away' ? 'drive.pulled' : 'roll.hold',
      severity,
      subject: roll.id,
      shootId: roll.shootId,
      recorder: roll.recorder,
      sentence: isClear ? `${sentence} ${CAUTION}` : sentence,
      at: now,
    },
  };
}

/** A message may have lain somewhere for hours, and the drive may have been recorded on since. */
const CAUTION = 'Look at the verdict, and at its time, before you record on it.';
