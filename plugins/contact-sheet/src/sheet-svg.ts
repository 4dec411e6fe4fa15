import type { Clip, Group } from './clip.ts';
import { xmlText } from './xml-text.ts';

export interface SheetFrame {
  readonly jpeg: Buffer;
  readonly timecode: string | null;
}

export interface SheetRow {
  readonly clip: Clip;
  /** Null for a frame that could not be read. None at all for sound. */
  readonly frames: readonly ((SheetFrame & { readonly frame: number | null }) | null)[];
}

export interface Sheet {
  readonly shoot: string;
  readonly group: Group | null;
  readonly rows: readonly SheetRow[];
}

const EDGE = 16;
const GAP = 8;
const LINE = 20;

/**
 * A contact sheet as one SVG file with everything in it: the frames as JPEG, the captions as text, which needs no font of
 * ffmpeg's, stays sharp at any size and can be searched and read aloud.
 */
export function sheetSvg(
  { shoot, group, rows }: Sheet,
  { frameWidth, framesPerClip }: { readonly frameWidth: number; readonly framesPerClip: number },
): string {
  const columns = Math.max(1, Math.min(framesPerClip, Math.max(...rows.map(({ frames }) => frames.length))));
  const width = Math.max(480, 2 * EDGE + columns * (frameWidth + GAP) - GAP);
  const head = group === null ? 'in no group' : `from ${group.startTimecode}`;
  const parts = [text({ x: EDGE, y: EDGE + 14, size: 16 }, `${shoot}, ${head}`)];
  let y = EDGE + 2 * LINE;
  for (const row of rows) {
    parts.push(...rowParts(row, { y, frameWidth }));
    y += rowHeight(row, frameWidth);
  }
  const height = y + EDGE - GAP;
  return [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img" font-family="ui-monospace, 'DejaVu Sans Mono', Menlo, Consolas, monospace">`,
    `<title>${xmlText(`Contact sheet of ${shoot}, ${head}`)}</title>`,
    `<rect width="${width}" height="${height}" fill="#161616"/>`,
    ...parts,
    '</svg>',
    '',
  ].join('\n');
}

interface RowPlace {
  readonly y: number;
  readonly frameWidth: number;
}

function rowParts({ clip, frames }: SheetRow, { y, frameWidth }: RowPlace): readonly string[] {
  const { recorder, path, facts } = clip;
  const told = frames.length > 0 ? [] : [facts.picture === null ? 'sound only' : 'no frames'];
  const head = text({ x: EDGE, y: y + 12, size: 13 }, [recorder, path, ...told].join('  '));
  const height = frameHeight(clip, frameWidth);
  const cells = frames.flatMap((frame, column) => {
    const x = EDGE + column * (frameWidth + GAP);
    const box = `x="${x}" y="${y + LINE}" width="${frameWidth}" height="${height}"`;
    const caption = { x, y: y + LINE + height + 14, size: captionSize(frameWidth) };
    if (frame === null) return [`<rect ${box} fill="#303030"/>`, text(caption, `${recorder} could not be read`)];
    const label = frame.timecode ?? (frame.frame === null ? 'no timecode' : `frame ${frame.frame}, no timecode`);
    const image = `<image ${box} href="data:image/jpeg;base64,${frame.jpeg.toString('base64')}"/>`;
    return [image, text(caption, `${recorder} ${label}`)];
  });
  return [head, ...cells];
}

function rowHeight({ clip, frames }: SheetRow, frameWidth: number): number {
  return frames.length === 0 ? LINE + GAP : 2 * LINE + frameHeight(clip, frameWidth) + GAP;
}

/** As the frames are scaled: square pixels, an even number of lines. */
function frameHeight({ facts: { picture } }: Clip, frameWidth: number): number {
  if (picture === null) return 0;
  const aspect = picture.pixelAspect === null ? 1 : picture.pixelAspect.numerator / picture.pixelAspect.denominator;
  return 2 * Math.round((frameWidth * picture.height) / (picture.width * aspect) / 2);
}

/** Twenty characters, a long recorder's name and a label, fit below a frame of 160 pixels and more. */
function captionSize(frameWidth: number): number {
  return Math.max(6, Math.min(13, Math.floor(frameWidth / 14)));
}

function text(
  { x, y, size }: { readonly x: number; readonly y: number; readonly size: number },
  words: string,
): string {
  return `<text x="${x}" y="${y}" font-size="${size}" fill="#f0f0f0" xml:space="preserve">${xmlText(words)}</text>`;
}
