import type { Instant } from '@quayside/shoot';

/** An `xs:dateTime` in milliseconds since 1970-01-01 UTC, or null. Without an offset it is taken as UTC. */
export function msFrom(dateTime: string): number | null {
  const [, moment, fraction = '', offset = 'Z'] = DATE_TIME.exec(dateTime.trim()) ?? [];
  const ms = Date.parse(`${moment}${fraction}${offset}`);
  return Number.isNaN(ms) ? null : ms;
}

/** An `xs:dateTime` as an instant in UTC, or null. */
export function instantFrom(dateTime: string): Instant | null {
  const ms = msFrom(dateTime);
  return ms === null ? null : new Date(ms).toISOString();
}

/** What `xs:dateTime` can hold of a time, as whole milliseconds; null for a time from a clock gone astray. */
export function writableMs(ms: number): number | null {
  return ms >= YEAR_1 && ms < YEAR_10000 ? Math.floor(ms) : null;
}

const DATE_TIME = /^(\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2})(\.\d+)?(Z|[+-]\d{2}:\d{2})?$/;
const YEAR_1 = Date.parse('0001-01-01T00:00:00Z');
const YEAR_10000 = Date.parse('+010000-01-01T00:00:00Z');
