import { Message } from '@quayside/messages';
import { Instant } from '@quayside/shoot';
import { z } from 'zod';

/** The last event of the service's stream that was looked at when the line was written, or null when it came from no event. */
const event = z.string().nullable();

/** One line of the journal: what was decided or done, never changed again. */
export const JournalLine = z.discriminatedUnion('line', [
  /** The first line. `id` goes into every key, so that a journal begun anew never gives a key again. */
  z.object({ line: z.literal('born'), id: z.string(), event }),
  z.object({
    line: z.literal('told'),
    thread: z.string(),
    matter: z.string(),
    /** Counts what was told in this thread. */
    number: z.number().int().positive(),
    message: Message,
    to: z.array(z.object({ channel: z.string(), dueAt: Instant.nullable() })),
    event,
  }),
  /** A thread that came to another matter without a message. */
  z.object({ line: z.literal('moved'), thread: z.string(), matter: z.string(), number: z.number().int(), event }),
  /** Deliveries that go out as one letter, under its own key. */
  z.object({ line: z.literal('gathered'), letter: z.string(), deliveries: z.array(z.string()).min(1) }),
  z.object({ line: z.literal('tried'), letter: z.string(), at: Instant, code: z.string(), why: z.string() }),
  z.object({
    line: z.literal('settled'),
    letter: z.string(),
    at: Instant,
    as: z.enum(['sent', 'given-up', 'superseded']),
  }),
]);
export type JournalLine = z.output<typeof JournalLine>;

/** The line in a text, or null when a crash tore it. */
export function parseLine(text: string): JournalLine | null {
  try {
    return JournalLine.parse(JSON.parse(text));
  } catch {
    return null;
  }
}
