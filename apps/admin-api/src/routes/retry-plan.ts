import type { Roll } from '@quayside/shoot';
import { z } from 'zod';

const Count = z.int().nonnegative();

/** What a retry has set going for one roll. */
export const RetryPlan = z.object({
  id: z.string(),
  drivePresent: z.boolean(),
  destinations: z
    .record(z.string(), z.object({ parcels: Count, files: Count, bytes: Count }))
    .describe('What is copied or read back again, by destination; zeros where only the manifest is written again.'),
  facts: z.boolean().describe('Whether the facts of its clips are read again.'),
  judgement: z.boolean().describe('Whether a new verdict follows.'),
  sentence: z.string(),
});
export type RetryPlan = z.output<typeof RetryPlan>;

/** What a retry has changed: each destination that it opened again, and what that one has still to take. */
export function plannedRetry(before: Roll, after: Roll): RetryPlan {
  const reopened = Object.keys(after.destinations).filter(
    (name) => (after.destinations[name]?.sealAttempt ?? 0) > (before.destinations[name]?.sealAttempt ?? 0),
  );
  const plan = {
    id: after.id,
    drivePresent: after.mount !== null,
    destinations: Object.fromEntries(reopened.map((name) => [name, stillToTake(after, name)])),
    facts: after.facts !== before.facts && after.facts === 'partly',
    judgement: after.judgementDue > before.judgementDue,
  };
  return { ...plan, sentence: sentenceFor(plan, after) };
}

/** Whether a retry has set anything going. */
export function isAnythingPlanned({ destinations, facts, judgement }: Omit<RetryPlan, 'sentence'>): boolean {
  return facts || judgement || Object.keys(destinations).length > 0;
}

function stillToTake(roll: Roll, name: string): { parcels: number; files: number; bytes: number } {
  const parcels = roll.parcels.filter(({ copies }) => {
    const state = copies[name]?.state;
    return state === 'absent' || state === 'written';
  });
  return {
    parcels: parcels.length,
    files: parcels.reduce((sum, parcel) => sum + parcel.fileCount, 0),
    bytes: parcels.reduce((sum, parcel) => sum + parcel.sizeInBytes, 0),
  };
}

function sentenceFor(plan: Omit<RetryPlan, 'sentence'>, after: Roll): string {
  if (!isAnythingPlanned(plan)) return 'Nothing has failed there, so there is nothing to try again.';
  const reopened = Object.keys(plan.destinations).toSorted();
  const whenThere = plan.drivePresent ? 'now' : 'as soon as the drive is connected';
  const sentences = [
    ...(reopened.length === 0
      ? []
      : [`What failed at ${reopened.join(' and ')} is tried again ${whenOf(after, reopened)}.`]),
    ...(plan.facts ? [`What its clips are is read again ${whenThere}.`] : []),
    ...(reopened.length === 0 && plan.judgement ? [`It is judged again ${whenThere}.`] : []),
  ];
  return sentences.join(' ');
}

function whenOf(after: Roll, reopened: readonly string[]): string {
  if (after.mount !== null) return 'now';
  return reopened.some((name) => canGoOn(after, name))
    ? 'now, as far as that can be done without the drive'
    : 'as soon as the drive is connected';
}

/** Without the drive, what has a proven copy is made from that, what is written is read back, and a manifest is written again. */
function canGoOn(roll: Roll, name: string): boolean {
  if (stillToTake(roll, name).parcels === 0) return true;
  return roll.parcels.some(({ copies }) => {
    const isProven = Object.values(copies).some(({ state }) => state === 'verified');
    return copies[name]?.state === 'written' || (copies[name]?.state === 'absent' && isProven);
  });
}
