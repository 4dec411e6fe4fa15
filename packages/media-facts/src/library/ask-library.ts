import { mediaInfoFactory } from 'mediainfo.js';
import type { FileBytes } from '../file-bytes/file-bytes.ts';

/** One track as the library describes it: names and values as text, those it has no name of its own for under `extra`. */
export interface Described {
  readonly kind: string;
  text(name: string): string | null;
  number(name: string): number | null;
  readonly extra: Readonly<Record<string, string>>;
}

/** What the library made of a file. `sawAll` is false when it wanted to read more than it was given. */
export interface Description {
  readonly tracks: readonly Described[];
  readonly sawAll: boolean;
}

/** Asks the library about one file. It gets about `byteLimit` bytes, then has to do with what it saw. */
export type AskLibrary = (file: FileBytes, byteLimit: number) => Promise<Description>;

const CHUNK_BYTES = 64 * 1024;

/** Loads the library (2.5 MB of WebAssembly), ready for any number of files, one at a time. */
export async function loadLibrary(): Promise<AskLibrary> {
  const library = await mediaInfoFactory({ format: 'JSON', chunkSize: CHUNK_BYTES });
  return async (file, byteLimit) => {
    let given = 0;
    let sawAll = true;
    const answer = await library.analyzeData(file.size, (length, position) => {
      if (given >= byteLimit) {
        sawAll = false;
        return new Uint8Array();
      }
      const bytes = file.readAt(position, length);
      given += bytes.length;
      return bytes;
    });
    return { tracks: describedTracks(JSON.parse(answer)), sawAll };
  };
}

function describedTracks(answer: unknown): readonly Described[] {
  const tracks = fieldOf(fieldOf(answer, 'media'), 'track');
  return Array.isArray(tracks) ? tracks.map(describe) : [];
}

function describe(track: unknown): Described {
  const text = (name: string): string | null => {
    const value = fieldOf(track, name);
    // What it meets twice it joins with " / ".
    return typeof value === 'string' && value !== '' ? (value.split(' / ')[0] ?? null) : null;
  };
  const extra = fieldOf(track, 'extra');
  return {
    kind: text('@type') ?? '',
    text,
    number: (name) => {
      const value = Number(text(name) ?? Number.NaN);
      return Number.isFinite(value) ? value : null;
    },
    extra: Object.fromEntries(
      Object.entries(typeof extra === 'object' && extra !== null ? extra : {}).flatMap(([name, value]) =>
        typeof value === 'string' ? [[name, value]] : [],
      ),
    ),
  };
}

function fieldOf(value: unknown, name: string): unknown {
  return typeof value === 'object' && value !== null && name in value ? Reflect.get(value, name) : undefined;
}
