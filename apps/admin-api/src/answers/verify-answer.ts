import { Failure, Instant } from '@quayside/shoot';
import { z } from 'zod';

const Count = z.int().nonnegative();
const About = z.object({
  kind: z.enum(['shoot', 'destination']),
  id: z.string(),
  since: Instant.describe('What has been read since this moment counts.'),
  waitsForIntake: z
    .boolean()
    .describe('True while a drive is being taken in; nothing is read again until that is done.'),
});

/** What a request to verify will have read. */
export const VerifyAnswer = About.extend({
  rolls: Count,
  files: Count.describe('Each at every destination that is meant.'),
  bytes: Count,
  sentence: z.string(),
});
export type VerifyAnswer = z.output<typeof VerifyAnswer>;

const Place = z.object({ rollId: z.string(), destination: z.string() });

/** How far it is. `isDone` is true when all has been read, and what was bad is made anew or cannot be by itself. */
export const VerifyProgress = About.extend({
  isDone: z.boolean(),
  copies: Count.describe('Rolls, each at every destination that is meant.'),
  copiesDone: Count,
  bytes: Count,
  bytesDone: Count,
  bad: z.array(
    Place.extend({ badFiles: Count, isMended: z.boolean().describe('True when all is proven there again.') }),
  ),
  unread: z.array(Place.extend({ failure: Failure })).describe('What could not be read to the end, and why.'),
});
export type VerifyProgress = z.output<typeof VerifyProgress>;
