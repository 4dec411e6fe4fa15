import { z } from 'zod';

/** A time on the clock, HH:MM, 00:00 to 23:59. */
const ClockTime = z.string().regex(/^(?:[01]\d|2[0-3]):[0-5]\d$/);

export const QuietHours = z
  .strictObject({
    from: ClockTime.describe('Local time, HH:MM, at which the quiet begins. No default.'),
    to: ClockTime.describe('Local time, HH:MM, at which it ends; earlier than `from` means over midnight. No default.'),
    unless: z
      .enum(['warning', 'critical', 'never'])
      .default('critical')
      .describe(
        'The severity from which a message does not wait: warning, critical, or `never`, where all wait. Default critical. With never, a drive that must not be recorded over is told in the morning.',
      ),
  })
  .superRefine(({ from, to }, context) => {
    if (from !== to) return;
    const remedy = 'give two different times, or leave the rule out';
    context.addIssue({ code: 'custom', message: 'begin and end at one time', params: { remedy } });
  })
  .describe('Hours in which messages wait.');
export type QuietHours = z.output<typeof QuietHours>;

const MINUTE_MS = 60_000;
/** A day of 25 hours, and a little. */
const LONGEST_MINUTES = 26 * 60;

/**
 * The first moment at or after `atMs` that does not lie in the quiet hours, to the minute; `atMs` itself when it does not.
 * Quiet is what the clock on the wall says, so on the day the clocks change it lasts an hour more or less.
 */
export function endOfQuiet(atMs: number, { from, to }: Pick<QuietHours, 'from' | 'to'>, timeZone: string): number {
  const clock = clockOf(timeZone);
  const isQuiet = (moment: number): boolean => {
    const time = clock(moment);
    return from < to ? time >= from && time < to : time >= from || time < to;
  };
  if (!isQuiet(atMs)) return atMs;
  // Minute by minute: clocks that jump, zones with odd offsets and nights of 25 hours need no case of their own.
  const start = Math.floor(atMs / MINUTE_MS) * MINUTE_MS;
  for (let minutes = 1; minutes <= LONGEST_MINUTES; minutes += 1) {
    const moment = start + minutes * MINUTE_MS;
    if (!isQuiet(moment)) return moment;
  }
  return atMs;
}

/** Tells the local time, HH:MM, of a moment. */
function clockOf(timeZone: string): (ms: number) => string {
  const format = new Intl.DateTimeFormat('en-GB', { timeZone, hour: '2-digit', minute: '2-digit', hourCycle: 'h23' });
  return (ms) => format.format(ms);
}
