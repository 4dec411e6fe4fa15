import { joinTimeReference } from '@quayside/timecode';

/** The fields of a `bext` chunk (EBU Tech 3285) that are facts of a clip. */
export interface Bext {
  readonly originator: string | null;
  /** `yyyy-mm-ddThh:mm:ss` of the recorder's clock, whose zone nobody knows; the date alone when there is no time. */
  readonly originatedAt: string | null;
  /** The first sample's index since midnight. Null when it is beyond what can be counted exactly. */
  readonly timeReference: number | null;
}

const FIXED_FIELDS = 346;

/** Reads a `bext` chunk; null when it is shorter than its fixed fields. */
export function parseBext(bytes: Buffer): Bext | null {
  if (bytes.length < FIXED_FIELDS) return null;
  const text = (start: number, length: number): string => {
    const field = bytes.subarray(start, start + length);
    const end = field.indexOf(0);
    return field.toString('latin1', 0, end === -1 ? length : end).trim();
  };
  const originator = text(256, 32);
  return {
    originator: originator === '' ? null : originator,
    originatedAt: joinDateAndTime(text(320, 10), text(330, 8)),
    timeReference: readTimeReference(bytes.readUInt32LE(342), bytes.readUInt32LE(338)),
  };
}

function readTimeReference(high: number, low: number): number | null {
  return high >= 2 ** 21 ? null : joinTimeReference({ high, low });
}

/** The standard lets five signs stand between the numbers. */
function joinDateAndTime(date: string, time: string): string | null {
  const day = /^(\d{4})[-_: .](\d\d)[-_: .](\d\d)$/.exec(date);
  if (day === null || Number(day[1]) === 0) return null;
  const clock = /^(\d\d)[-_: .](\d\d)[-_: .](\d\d)$/.exec(time);
  const dayText = day.slice(1).join('-');
  return clock === null ? dayText : `${dayText}T${clock.slice(1).join(':')}`;
}
