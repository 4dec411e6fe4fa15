import type { FileBytes } from '../file-bytes/file-bytes.ts';

/** One box of an ISO media file (ISO/IEC 14496-12), or atom of a QuickTime file: where its content lies. */
export interface Box {
  readonly type: string;
  readonly bodyStart: number;
  /** Exclusive, as the box says it; may lie beyond the end of the file. */
  readonly end: number;
}

/** The longest list of boxes that is followed; a real file has some dozens, a fragmented one two per fragment. */
const MOST_BOXES = 10_000;

/** The boxes between two places, in order, reading their headers only. Ends quietly at what is no box. */
export function* boxesIn(file: FileBytes, start: number, end: number): Generator<Box, void, undefined> {
  let position = start;
  for (let count = 0; count < MOST_BOXES && position + 8 <= end; count += 1) {
    const box = readBox(file, position, end);
    if (box === null) return;
    yield box;
    position = box.end;
  }
}

/** The first box of a type between two places. */
export function findBox(file: FileBytes, within: Box | null, type: string): Box | null {
  if (within === null) return null;
  for (const box of boxesIn(file, within.bodyStart, within.end)) if (box.type === type) return box;
  return null;
}

/** The first bytes of a box's content, at most `length`. */
export function readBody(file: FileBytes, box: Box, length: number): Buffer {
  return file.readAt(box.bodyStart, Math.min(length, box.end - box.bodyStart));
}

function readBox(file: FileBytes, position: number, end: number): Box | null {
  const header = file.readAt(position, 16);
  if (header.length < 8) return null;
  const type = header.toString('latin1', 4, 8);
  // 0xA9 begins the names of user data.
  if (!/^[\u0020-\u007e\u00a9]{4}$/.test(type)) return null;
  const size = header.readUInt32BE(0);
  if (size === 0) return { type, bodyStart: position + 8, end };
  if (size >= 8) return { type, bodyStart: position + 8, end: position + size };
  if (size !== 1 || header.length < 16) return null;
  const longSize = header.readBigUInt64BE(8);
  if (longSize < 16n || longSize > BigInt(Number.MAX_SAFE_INTEGER)) return null;
  return { type, bodyStart: position + 16, end: position + Number(longSize) };
}
