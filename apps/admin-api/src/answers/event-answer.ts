import { StreamedEvent } from '@quayside/shoot';
import { z } from 'zod';

/** One event of the stream. `id` only grows; give the last one seen to go on after it. */
export const EventAnswer = StreamedEvent.extend({
  // The schema of any JSON refers to itself, which a document made for readers need not show.
  data: z.record(z.string(), z.unknown()).optional(),
});
export type EventAnswer = z.output<typeof EventAnswer>;

/** An event id as the stream gives it, or `0` for the beginning of what is kept. */
export const EventId = z
  .string()
  .regex(/^(?:0|\d{1,20}-\d{1,20})$/, 'is not the id of an event; give one as it was received, or 0');
