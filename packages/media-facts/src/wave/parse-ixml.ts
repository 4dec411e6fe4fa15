import { parseXml, XmlElement } from '@rgrove/parse-xml';
import type { Ratio, WaveFacts } from '@quayside/shoot';
import { joinTimeReference, nearestRate, rational } from '@quayside/timecode';

/** What the iXML chunk of a wave file tells. */
export type Ixml = Omit<WaveFacts, 'timeReference' | 'originator' | 'originatedAt'>;

/**
 * Reads an iXML chunk; null when it is not well-formed. Takes what recorders really write: NULs at the end, another
 * encoding than they claim, a name misspelt. Expands no entity but XML's own, fetches nothing.
 */
export function parseIxml(bytes: Buffer): Ixml | null {
  const root = readRoot(decode(bytes));
  if (root === null) return null;
  const speed = childOf(root, 'SPEED');
  return {
    project: textOf(root, 'PROJECT'),
    scene: textOf(root, 'SCENE'),
    take: textOf(root, 'TAKE'),
    tape: textOf(root, 'TAPE'),
    fileUid: textOf(root, 'FILE_UID'),
    timecodeRate: parseRate(textOf(speed, 'TIMECODE_RATE')),
    isDropFrame: parseFlag(textOf(speed, 'TIMECODE_FLAG')),
    samplesSinceMidnight: readSamplesSinceMidnight(speed),
    timestampSampleRate: parseWhole(textOf(speed, 'TIMESTAMP_SAMPLE_RATE')) || null,
    trackNames: readTrackNames(childOf(root, 'TRACK_LIST')),
  };
}

function decode(bytes: Buffer): string {
  const isWide = bytes[0] === 0xff && bytes[1] === 0xfe;
  if (isWide) return new TextDecoder('utf-16le').decode(bytes);
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return bytes.toString('latin1');
  }
}

function readRoot(text: string): XmlElement | null {
  const end = text.indexOf('\0');
  try {
    return parseXml((end === -1 ? text : text.slice(0, end)).trim()).root;
  } catch {
    return null;
  }
}

function readSamplesSinceMidnight(speed: XmlElement | null): number | null {
  const half = (end: 'HI' | 'LO'): number | null =>
    parseWhole(textOf(speed, `TIMESTAMP_SAMPLES_SINCE_MIDNIGHT_${end}`)) ??
    parseWhole(textOf(speed, `TIMESTAMP_SAMPLE_SINCE_MIDNIGHT_${end}`));
  const low = half('LO');
  const high = half('HI') ?? 0;
  if (low === null || low >= 2 ** 32 || high >= 2 ** 21) return null;
  return joinTimeReference({ high, low });
}

/** In the order of the tracks in the file, where the list says it. */
function readTrackNames(list: XmlElement | null): string[] {
  const tracks = childrenOf(list).filter(({ name }) => name === 'TRACK');
  const placed = tracks.map((track, index) => ({
    place: parseWhole(textOf(track, 'INTERLEAVE_INDEX')) ?? index + 1,
    name: textOf(track, 'NAME') ?? '',
  }));
  return placed.toSorted((left, right) => left.place - right.place).map(({ name }) => name);
}

function parseRate(text: string | null): Ratio | null {
  if (text === null) return null;
  const near = nearestRate(text.replaceAll(' ', ''));
  if (near.ok) return { numerator: near.rate.numerator, denominator: near.rate.denominator };
  const parts = /^(\d{1,9})\/(\d{1,9})$/.exec(text);
  const [numerator, denominator] = [Number(parts?.[1]), Number(parts?.[2])];
  return numerator > 0 && denominator > 0 ? rational(numerator, denominator) : null;
}

function parseFlag(text: string | null): boolean | null {
  if (text === 'DF') return true;
  return text === 'NDF' ? false : null;
}

function parseWhole(text: string | null): number | null {
  return text !== null && /^\d{1,15}$/.test(text) ? Number(text) : null;
}

function childrenOf(parent: XmlElement | null): XmlElement[] {
  return (parent?.children ?? []).filter((child) => child instanceof XmlElement);
}

function childOf(parent: XmlElement | null, name: string): XmlElement | null {
  return childrenOf(parent).find((child) => child.name === name) ?? null;
}

function textOf(parent: XmlElement | null, name: string): string | null {
  const text = childOf(parent, name)?.text.trim() ?? '';
  return text === '' ? null : text;
}
