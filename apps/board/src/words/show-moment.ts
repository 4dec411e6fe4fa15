/** The time of day of an instant in this browser's zone, to the second. */
export function showTime(instant: string): string {
  return TIME.format(new Date(instant));
}

/** The date and the time of day, to the minute, for what may lie days back. */
export function showDay(instant: string): string {
  return DAY.format(new Date(instant));
}

const TIME = new Intl.DateTimeFormat('en-GB', { hour: '2-digit', minute: '2-digit', second: '2-digit' });
const DAY = new Intl.DateTimeFormat('en-GB', {
  day: 'numeric',
  month: 'short',
  year: 'numeric',
  hour: '2-digit',
  minute: '2-digit',
});
