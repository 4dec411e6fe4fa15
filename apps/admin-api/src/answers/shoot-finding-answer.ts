import { type Acknowledgement, Finding, FolderName, Instant } from '@quayside/shoot';
import { z } from 'zod';

/** A finding of a shoot, with the id that it keeps when it is worked out again, and who has seen it. */
export const ShootFinding = Finding.extend({
  id: z.string().describe('Stays the same while the finding is about the same matter.'),
  groupId: z.string().nullable(),
  recorder: FolderName.nullable(),
  rollId: z.string().nullable().describe('The roll that it belongs to, or null for a matter of the whole shoot.'),
  clipIds: z.array(z.string()),
  acknowledged: z.object({ by: z.string(), at: Instant, note: z.string() }).nullable(),
});
export type ShootFinding = z.output<typeof ShootFinding>;

/** The part of an acknowledgement that the finding itself does not say. */
export function seenBy(acknowledgement: Acknowledgement | undefined): ShootFinding['acknowledged'] {
  if (acknowledgement === undefined) return null;
  const { by, at, note } = acknowledgement;
  return { by, at, note };
}
