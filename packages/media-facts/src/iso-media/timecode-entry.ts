/** What a timecode track says of its counting (QuickTime File Format, timecode sample description). */
export interface TimecodeEntry {
  readonly isDropFrame: boolean;
  /** The sample is a plain counter, not a label. */
  readonly isCounter: boolean;
  readonly timescale: number;
  readonly frameTicks: number;
  /** Labels in one labelled second. */
  readonly base: number;
  readonly reel: string | null;
  /** The sample has 64 bits (`tc64`). */
  readonly isLong: boolean;
}

/** Reads an entry of the sample description (`stsd`), from its size on. Null when it is no timecode or too short. */
export function parseTimecodeEntry(entry: Buffer): TimecodeEntry | null {
  const type = entry.toString('latin1', 4, 8);
  if (entry.length < 34 || (type !== 'tmcd' && type !== 'tc64')) return null;
  const flags = entry.readUInt32BE(20);
  const timescale = entry.readUInt32BE(24);
  const frameTicks = entry.readUInt32BE(28);
  const written = entry.readUInt8(32);
  return {
    isDropFrame: (flags & 0x1) !== 0,
    isCounter: (flags & 0x8) !== 0,
    timescale,
    frameTicks,
    base: written > 0 || frameTicks === 0 ? written : Math.round(timescale / frameTicks),
    reel: readReel(entry),
    isLong: type === 'tc64',
  };
}

/** The published layout puts the name at 36; files whose writer keeps one reserved byte have it at 34. */
function readReel(entry: Buffer): string | null {
  for (const start of [34, 36]) {
    if (start + 12 > entry.length || entry.toString('latin1', start + 4, start + 8) !== 'name') continue;
    const size = entry.readUInt32BE(start);
    const length = entry.readUInt16BE(start + 8);
    if (start + size > entry.length || 12 + length > size) continue;
    const text = entry.toString('utf8', start + 12, start + 12 + length).replaceAll('\0', '');
    return text.trim() === '' ? null : text.trim();
  }
  return null;
}
