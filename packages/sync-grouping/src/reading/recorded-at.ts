import type { Clip } from '@quayside/shoot';

/** When a clip says that its recording began, by the recorder's own calendar clock. */
export interface RecordedAt {
  /** Milliseconds since 1970; read as UTC where the text names no zone. */
  readonly ms: number;
  /** `YYYY-MM-DD` as written. */
  readonly date: string;
  /** True when the text names its zone. */
  readonly isCertain: boolean;
}

/**
 * The creation date where the file has a believable one, else the origination date of a broadcast wave, else the file's
 * modification less its duration: recorders close a file when it ends.
 */
export function recordedAt(clip: Clip): RecordedAt {
  const { created, wave, durationMs } = clip.facts;
  const written = created === null ? null : readDate(created.at);
  if (written !== null) return { ...written, isCertain: created?.zone !== 'unknown' };
  const originated = wave?.originatedAt == null ? null : readDate(wave.originatedAt);
  if (originated !== null) return { ...originated, isCertain: false };
  const modified = readDate(clip.modifiedAt);
  const ms = (modified?.ms ?? 0) - Math.round(durationMs ?? 0);
  // The calendar is only asked to print a number that it was given: nothing here reads a clock.
  return { ms, date: new Date(ms).toISOString().slice(0, 10), isCertain: false };
}

const DATE =
  /([0-9]{4})-([0-9]{2})-([0-9]{2})[T ]([0-9]{2}):([0-9]{2}):([0-9]{2})(?:\.([0-9]{1,9}))?(?:Z|([+-])([0-9]{2}):?([0-9]{2}))?/;

/** Null for no date, and for one before 2000: a container's zero (1904, 1970) and a flat battery's default are none. */
function readDate(text: string): { readonly ms: number; readonly date: string } | null {
  const parts = DATE.exec(text);
  if (parts === null) return null;
  const [year, month, day, hours, minutes, seconds] = parts.slice(1, 7).map(Number);
  if (year === undefined || year < 2000) return null;
  const milliseconds = Number(`${parts[7] ?? ''}000`.slice(0, 3));
  const asWritten = Date.UTC(year, (month ?? 1) - 1, day, hours, minutes, seconds, milliseconds);
  const offsetMinutes = 60 * Number(parts[9] ?? 0) + Number(parts[10] ?? 0);
  const offsetMs = (parts[8] === '-' ? -1 : 1) * offsetMinutes * 60_000;
  return { ms: asWritten - offsetMs, date: `${parts[1]}-${parts[2]}-${parts[3]}` };
}
