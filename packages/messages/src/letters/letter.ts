import { Instant } from '@quayside/shoot';
import { z } from 'zod';
import { Message } from '../message.ts';

/** What a channel is given to send: messages in words, and the key under which they are sent, however often. */
export const Letter = z.object({
  /** The idempotency key: the same for every try of one delivery, and for no other delivery. Letters, digits and `-`. */
  id: z.string().regex(/^msg-[0-9a-f]{24}$/),
  /** When the newest of its messages came up. */
  at: Instant,
  messages: z.array(Message).min(1),
  /** One line. */
  subject: z.string(),
  text: z.string(),
  /** A whole document that loads nothing from elsewhere. */
  html: z.string(),
});
export type Letter = z.output<typeof Letter>;
