import { z } from 'zod';

/** A moment in UTC as ISO 8601 text with milliseconds: what is stored, sent and logged. Pure code gets it as an argument. */
export const Instant = z.iso.datetime();
export type Instant = z.output<typeof Instant>;
