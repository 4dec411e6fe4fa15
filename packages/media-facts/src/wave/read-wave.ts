import type { FileBytes } from '../file-bytes/file-bytes.ts';

/** What the chunks of a wave file say (EBU Tech 3285, and Tech 3306 for files beyond 4 GiB). */
export interface Wave {
  readonly container: 'Wave' | 'RF64' | 'BW64';
  readonly format: WaveFormat | null;
  /** Samples of one channel that are there. Null when they are compressed or the format is missing. */
  readonly sampleCount: number | null;
  readonly bext: Buffer | null;
  readonly ixml: Buffer | null;
  /** Why the file is not whole, or null. */
  readonly cut: string | null;
}

export interface WaveFormat {
  readonly isPcm: boolean;
  readonly channels: number;
  readonly sampleRate: number;
  readonly blockAlign: number;
  readonly bitDepth: number;
}

interface Chunk {
  readonly id: string;
  readonly start: number;
  /** Null when the size was never written. */
  readonly size: number | null;
}

const MOST_CHUNKS = 1000;
const LONGEST_TEXT = 1024 * 1024;
const UNKNOWN_SIZE = 0xffff_ffff;
const PCM_FORMATS = new Set([0x0001, 0x0003]);
const EXTENSIBLE = 0xfffe;

/** Walks the chunks of a wave file, reading only headers and the small ones. Null for any other file. */
export function readWave(file: FileBytes): Wave | null {
  const head = file.readAt(0, 12);
  const container = CONTAINERS[head.toString('latin1', 0, 4)];
  if (container === undefined || head.toString('latin1', 8, 12) !== 'WAVE') return null;
  const chunks = readChunks(file, container);
  const find = (id: string): Chunk | null => chunks.find((chunk) => chunk.id === id) ?? null;
  const read = (id: string): Buffer | null => {
    const chunk = find(id);
    return chunk?.size == null ? null : file.readAt(chunk.start, Math.min(chunk.size, LONGEST_TEXT));
  };
  const format = parseFormat(read('fmt '));
  const data = find('data');
  const there = data === null ? null : Math.min(data.size ?? Infinity, file.size - data.start);
  return {
    container,
    format,
    sampleCount: format?.isPcm === true && there !== null ? Math.floor(there / format.blockAlign) : null,
    bext: read('bext'),
    ixml: read('iXML'),
    cut: findCut(file, chunks, data),
  };
}

const CONTAINERS: Readonly<Record<string, Wave['container']>> = { RIFF: 'Wave', RF64: 'RF64', BW64: 'BW64' };

function readChunks(file: FileBytes, container: Wave['container']): readonly Chunk[] {
  const chunks: Chunk[] = [];
  let longSizes: ReadonlyMap<string, number> = new Map();
  let position = 12;
  while (chunks.length < MOST_CHUNKS && position + 8 <= file.size) {
    const header = file.readAt(position, 8);
    const id = header.toString('latin1', 0, 4);
    if (!/^[\u0020-\u007e]{4}$/.test(id)) break;
    const shortSize = header.readUInt32LE(4);
    if (id === 'ds64' && container !== 'Wave') longSizes = readLongSizes(file.readAt(position + 8, shortSize & 0xffff));
    const written = shortSize === UNKNOWN_SIZE ? (longSizes.get(id) ?? null) : shortSize;
    const start = position + 8;
    const isUnfinished = id === 'data' && written === 0 && !isChunkAt(file, start);
    const size = isUnfinished ? null : written;
    chunks.push({ id, start, size });
    if (size === null) break;
    position = start + size + (size % 2);
  }
  return chunks;
}

/** The sizes that do not fit 32 bits: those of `data` and of the chunks in the table behind it. */
function readLongSizes(ds64: Buffer): ReadonlyMap<string, number> {
  const sizes = new Map<string, number>();
  if (ds64.length < 28) return sizes;
  sizes.set('data', Number(ds64.readBigUInt64LE(8)));
  const entries = Math.min(ds64.readUInt32LE(24), Math.floor((ds64.length - 28) / 12));
  for (let index = 0; index < entries; index += 1) {
    const start = 28 + index * 12;
    sizes.set(ds64.toString('latin1', start, start + 4), Number(ds64.readBigUInt64LE(start + 4)));
  }
  return sizes;
}

/** Whether the file ends here or goes on with another chunk: then an empty `data` was meant, else it was never finished. */
function isChunkAt(file: FileBytes, position: number): boolean {
  if (position >= file.size) return true;
  const header = file.readAt(position, 8);
  if (header.length < 8 || !/^[A-Za-z0-9_ ]{4}$/.test(header.toString('latin1', 0, 4))) return false;
  return position + 8 + header.readUInt32LE(4) <= file.size;
}

function parseFormat(bytes: Buffer | null): WaveFormat | null {
  if (bytes === null || bytes.length < 16) return null;
  const tag = bytes.readUInt16LE(0);
  const format = tag === EXTENSIBLE && bytes.length >= 26 ? bytes.readUInt16LE(24) : tag;
  const [channels, sampleRate, blockAlign] = [bytes.readUInt16LE(2), bytes.readUInt32LE(4), bytes.readUInt16LE(12)];
  if (channels === 0 || sampleRate === 0 || blockAlign === 0) return null;
  const validBits = tag === EXTENSIBLE && bytes.length >= 20 ? bytes.readUInt16LE(18) : 0;
  const bitDepth = validBits > 0 ? validBits : bytes.readUInt16LE(14);
  return { isPcm: PCM_FORMATS.has(format), channels, sampleRate, blockAlign, bitDepth };
}

function findCut(file: FileBytes, chunks: readonly Chunk[], data: Chunk | null): string | null {
  if (data === null) return 'It ends before its sound begins.';
  if (data.size === null) return 'The length of its sound was never written: the recording was not finished.';
  const beyond = chunks.find(({ start, size }) => size !== null && start + size > file.size);
  if (beyond?.size == null) return null;
  return `Its part "${beyond.id}" ends at byte ${beyond.start + beyond.size}, but the file ends at byte ${file.size}.`;
}
