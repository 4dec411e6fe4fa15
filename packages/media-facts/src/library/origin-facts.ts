import type { MediaFacts } from '@quayside/shoot';
import type { Described } from './ask-library.ts';

/** Which device recorded it, as far as its tags tell. */
export function deviceFrom(general: Described): MediaFacts['device'] {
  return {
    make: general.text('Encoded_Hardware_CompanyName') ?? extraLike(general, /(^|_)(make|manufacturer)$/i),
    model:
      general.text('Encoded_Hardware_Model') ??
      general.text('Encoded_Hardware_Name') ??
      extraLike(general, /(^|_)model(_?name)?$/i),
    serial: general.text('Encoded_Hardware_SerialNumber') ?? extraLike(general, /(^|_)serial(_?(no|number))?$/i),
  };
}

/** The reel by the file's tags; the one of a timecode track goes before it. */
export function reelFrom(general: Described): string | null {
  return extraLike(general, /(^|_)reel(_?(name|id|number))?$/i);
}

/**
 * When it was recorded. A date with an offset, or with UTC in writing, is certain. The date in an index (`mvhd`) should be UTC
 * by the standard, but recorders put their local clock there, so its zone is unknown.
 */
export function createdFrom(general: Described, isIndexDate: boolean): MediaFacts['created'] {
  for (const name of ['Recorded_Date', 'Encoded_Date']) {
    const created = parseDate(general.text(name), isIndexDate && name === 'Encoded_Date');
    if (created !== null) return created;
  }
  return null;
}

function parseDate(text: string | null, isIndexDate: boolean): MediaFacts['created'] {
  const pattern = /^(\d{4}-\d\d-\d\d)[ T](\d\d:\d\d:\d\d)(?:\.\d+)? ?(UTC|Z|[+-]\d\d:?\d\d)?$/;
  const [, date, time, zone] = pattern.exec(text ?? '') ?? [];
  if (date === undefined || time === undefined || date.startsWith('0000')) return null;
  const at = `${date}T${time}`;
  if (zone === undefined || isIndexDate) return { at, zone: 'unknown' };
  if (zone === 'UTC' || zone === 'Z') return { at: `${at}Z`, zone: 'utc' };
  return { at: `${at}${zone.slice(0, 3)}:${zone.slice(-2)}`, zone: 'offset' };
}

/** The first tag of the recorder's own whose name is like this. */
function extraLike(general: Described, pattern: RegExp): string | null {
  const [, value] =
    Object.entries(general.extra).find(([name, text]) => pattern.test(name) && text.trim() !== '') ?? [];
  return value?.trim() ?? null;
}
