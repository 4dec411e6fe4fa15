import { ShootStep } from '@quayside/shoot';
import { z } from 'zod';
import { RetryPlan } from './retry-plan.ts';

/** What the retry of a shoot or of a run has set going. */
export const RetryManyPlan = z.object({
  id: z.string().describe('The shoot, or the run.'),
  rolls: z.array(RetryPlan).describe('The rolls of which something is tried again.'),
  shootSteps: z.array(ShootStep).describe('The steps over the whole shoot that are made again.'),
  sentence: z.string(),
});
export type RetryManyPlan = z.output<typeof RetryManyPlan>;

/** What was asked for, in words, such as `shoot "kiln-day"`, and of how many rolls. */
export interface Asked {
  readonly id: string;
  readonly what: string;
  readonly rollCount: number;
}

/** Sums up what a retry of many things has set going, with one sentence for the operator. */
export function sumUpRetry(
  { id, what, rollCount }: Asked,
  { rolls, shootSteps }: Pick<RetryManyPlan, 'rolls' | 'shootSteps'>,
): RetryManyPlan {
  const waiting = rolls.filter(({ drivePresent }) => !drivePresent).length;
  const parts = [
    ...(rolls.length === 0 ? [] : [`something of ${rolls.length} of its ${rollCount} rolls (${amountOf(rolls)})`]),
    ...shootSteps.map((step) => WORK[step]),
  ];
  const sentence =
    parts.length === 0
      ? `Nothing of ${what} has failed there, so there is nothing to try again.`
      : `Of ${what}, ${parts.join(' and ')} is tried again.${waiting === 0 ? '' : ` The drives of ${waiting} are away: connect them for what only they have, and for the verdict.`}`;
  return { id, rolls, shootSteps, sentence };
}

const WORK: Readonly<Record<z.output<typeof ShootStep>, string>> = {
  'sync-grouping': 'which clips ran together',
  'proxy-planning': 'the plan of its proxies',
  records: 'the writing of its records',
};

function amountOf(rolls: readonly RetryPlan[]): string {
  const at = rolls.flatMap(({ destinations }) => Object.values(destinations));
  const files = at.reduce((sum, one) => sum + one.files, 0);
  const bytes = at.reduce((sum, one) => sum + one.bytes, 0);
  return files === 0 ? 'nothing is copied' : `${files} copies of files, ${bytes} bytes`;
}
