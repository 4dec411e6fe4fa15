import { createHash } from 'node:crypto';
import { Message } from '@quayside/messages';
import { Instant } from '@quayside/shoot';
import { z } from 'zod';

/** One message on its way to one channel. */
export const Delivery = z.object({
  id: z.string(),
  channel: z.string(),
  /** The key that it is sent under: its own id, or that of the letter it was gathered into. */
  letter: z.string(),
  thread: z.string(),
  number: z.number().int().positive(),
  message: Message,
  /**
   * `waiting`: for the end of its quiet hours or its digest. `due`: about to be sent, or tried again. `sent`: the channel took
   * it. `given-up`: tried for too long, or hopeless. `superseded`: overtaken by a newer message of the same thread.
   */
  state: z.enum(['waiting', 'due', 'sent', 'given-up', 'superseded']),
  dueAt: Instant.nullable(),
  tries: z.number().int().nonnegative(),
  /** What failed last, or null. */
  failure: z.object({ code: z.string(), sentence: z.string(), at: Instant }).nullable(),
  settledAt: Instant.nullable(),
});
export type Delivery = z.output<typeof Delivery>;

/** The key of one message to one channel. */
export function deliveryId(journal: string, key: { thread: string; number: number; channel: string }): string {
  return digest(JSON.stringify([journal, key.thread, key.number, key.channel]));
}

/** The key of a letter of several. */
export function letterId(deliveries: readonly string[]): string {
  return digest(JSON.stringify(deliveries));
}

function digest(text: string): string {
  return `msg-${createHash('sha256').update(text).digest('hex').slice(0, 24)}`;
}
