import { z } from 'zod';
import { Instant } from './instant.ts';

/** One line of what a run said: by its logger, or (`out`) on its output streams. */
export const RunLogLine = z.object({
  at: Instant,
  level: z.enum(['info', 'warn', 'error', 'out']),
  text: z.string(),
});
export type RunLogLine = z.output<typeof RunLogLine>;

/** What is kept of a run's log: its beginning and its end. `droppedLines` were between them. */
export const RunLog = z.object({
  head: z.array(RunLogLine),
  droppedLines: z.number().int().nonnegative(),
  tail: z.array(RunLogLine),
});
export type RunLog = z.output<typeof RunLog>;
