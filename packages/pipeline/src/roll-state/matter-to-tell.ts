import type { Roll } from '@quayside/shoot';
import { isAtRest } from './activity.ts';

/** One matter that people should hear of. `matter` names it, so that nobody is told the same thing twice. */
export interface Matter {
  readonly matter: string;
  readonly severity: 'info' | 'warning' | 'critical';
  readonly sentence: string;
}

/** The one matter of a roll worth telling now: its verdict, or that its drive left too early. Null while work goes on. */
export function matterToTell(roll: Roll): Matter | null {
  const isJudged = roll.judgementDue === roll.judged;
  if (!isJudged || (roll.mount !== null && !isAtRest(roll))) return null;
  const drive = `${roll.recorder} (${roll.volume.label ?? roll.volume.key})`;
  if (roll.clearance.verdict === 'clear') {
    return {
      matter: `visit-${roll.visit}-clear`,
      severity: 'info',
      sentence: `The drive of ${drive} is clear: all ${roll.fileCount} files of roll ${roll.id} are proven. It may be recorded over.`,
    };
  }
  const codes = roll.clearance.reasons.map((reason) => reason.code.toLowerCase().replaceAll('_', '-'));
  const first = roll.clearance.reasons[0]?.sentence ?? '';
  return {
    matter: ['visit', roll.visit, 'hold', ...new Set(codes)].join('-'),
    severity: roll.mount === null ? 'warning' : 'critical',
    sentence: `HOLD the drive of ${drive}, do not record over it: ${first}`,
  };
}
