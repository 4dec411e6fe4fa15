import { Instant, Severity } from '@quayside/shoot';
import { z } from 'zod';

/** What kinds of messages there are. Kinds are only ever added; each stands in this package's README. */
export const MessageKind = z.enum([
  'drive.seen',
  'drive.pulled',
  'roll.clear',
  'roll.hold',
  'roll.finding',
  'copy.bad',
  'copy.repaired',
  'take.finding',
  'shoot.complete',
  'disk.low',
  'disk.roomy',
  'service.started',
  'channel.failed',
  'test',
]);
export type MessageKind = z.output<typeof MessageKind>;

/** One thing that people should hear of. Its sentence holds no secret and stands for itself. */
export const Message = z.object({
  kind: MessageKind,
  severity: Severity,
  /** The roll, drive, shoot, destination or channel that it is about. */
  subject: z.string(),
  shootId: z.string().nullable(),
  recorder: z.string().nullable(),
  sentence: z.string(),
  at: Instant,
});
export type Message = z.output<typeof Message>;

/**
 * What a thread comes to. Matters of one thread follow each other (`hold`, then `clear`): the one that it stands at is not
 * told again, and a newer one replaces an older that has not been sent yet. Without a message the thread only moves on, and
 * only from the matter that is named, so that that one is told again when it comes back.
 */
export type Telling = { readonly thread: string; readonly matter: string } & (
  | { readonly message: Message }
  | { readonly message: null; readonly from: string }
);
