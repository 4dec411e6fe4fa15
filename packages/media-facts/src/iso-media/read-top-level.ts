import type { FileBytes } from '../file-bytes/file-bytes.ts';
import { type Box, boxesIn } from './box.ts';

/** The boxes that a QuickTime or MP4 file can begin with. */
const FIRST_BOXES = new Set(['ftyp', 'styp', 'wide', 'mdat', 'moov', 'moof', 'free', 'skip', 'pnot', 'uuid']);

/** What lies side by side in an ISO media file. */
export interface TopLevel {
  /** The index. */
  readonly index: Box | null;
  readonly fragments: readonly Box[];
  /** A box that says it ends beyond the file: the file is cut short. */
  readonly cutBox: Box | null;
  /** A picture file uses the same boxes, without an index of samples. */
  readonly isStill: boolean;
}

/** Null when the file is no ISO media file by its first box. */
export function readTopLevel(file: FileBytes): TopLevel | null {
  const boxes = [...boxesIn(file, 0, file.size)];
  if (boxes[0] === undefined || !FIRST_BOXES.has(boxes[0].type)) return null;
  return {
    index: boxes.find(({ type }) => type === 'moov') ?? null,
    fragments: boxes.filter(({ type }) => type === 'moof'),
    cutBox: boxes.find(({ end }) => end > file.size) ?? null,
    isStill: boxes.some(({ type }) => type === 'meta'),
  };
}
