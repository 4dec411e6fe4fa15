import type { Roll } from '@quayside/shoot';
import { z } from 'zod';

const Count = z.int().nonnegative();

/** What a retry has set going. */
export const RetryPlan = z.object({
  id: z.string(),
  drivePresent: z.boolean(),
  destinations: z
    .record(z.string(), z.object({ parcels: Count, files: Count, bytes: Count }))
    .describe('What is copied again, by destination; zeros where only the manifest is written again.'),
  sentence: z.string(),
});
export type RetryPlan = z.output<typeof RetryPlan>;

/** What a retry has changed: each destination that it opened again, and what that one has still to take. */
export function plannedRetry(before: Roll, after: Roll): RetryPlan {
  const reopened = Object.keys(after.destinations).filter(
    (name) => (after.destinations[name]?.sealAttempt ?? 0) > (before.destinations[name]?.sealAttempt ?? 0),
  );
  const drivePresent = after.mount !== null;
  return {
    id: after.id,
    drivePresent,
    destinations: Object.fromEntries(reopened.map((name) => [name, stillToTake(after, name)])),
    sentence: sentenceFor(reopened, drivePresent),
  };
}

function stillToTake(roll: Roll, name: string): { parcels: number; files: number; bytes: number } {
  const parcels = roll.parcels.filter((parcel) => parcel.copies[name]?.state === 'absent');
  return {
    parcels: parcels.length,
    files: parcels.reduce((sum, parcel) => sum + parcel.fileCount, 0),
    bytes: parcels.reduce((sum, parcel) => sum + parcel.sizeInBytes, 0),
  };
}

function sentenceFor(reopened: readonly string[], drivePresent: boolean): string {
  if (reopened.length === 0) return 'Nothing has failed there, so there is nothing to try again.';
  const names = reopened.toSorted().join(' and ');
  return drivePresent
    ? `What failed at ${names} is tried again now.`
    : `What failed at ${names} is tried again as soon as the drive is connected.`;
}
