import { constants } from 'node:fs';
import { open, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { generationInName } from './manifest-name.ts';
import { MAX_XML_BYTES } from './manifest.ts';
import { errorCode } from './refusals.ts';

export type StoredFile =
  | { readonly state: 'read'; readonly bytes: Uint8Array }
  | { readonly state: 'missing' }
  | { readonly state: 'refused'; readonly why: string };

/** Reads a whole file of a history folder. Links, pipes and files beyond `MAX_XML_BYTES` are refused. Throws on I/O errors only. */
export async function readStored(folder: string, name: string): Promise<StoredFile> {
  // Without O_NONBLOCK, opening a pipe waits for a writer that never comes.
  const flags = constants.O_RDONLY | constants.O_NOFOLLOW | constants.O_NONBLOCK;
  try {
    await using file = await open(join(folder, name), flags);
    const { size, isFile } = await file.stat().then((stat) => ({ size: stat.size, isFile: stat.isFile() }));
    if (!isFile) return { state: 'refused', why: 'it is not a regular file' };
    if (size > MAX_XML_BYTES) return { state: 'refused', why: `it is larger than ${MAX_XML_BYTES} bytes` };
    return { state: 'read', bytes: await file.readFile() };
  } catch (error) {
    if (errorCode(error) === 'ENOENT') return { state: 'missing' };
    if (errorCode(error) === 'ELOOP') return { state: 'refused', why: 'it is a link' };
    throw error;
  }
}

/** The names of the manifests in a history folder, by generation number and then by name; none when there is no folder. */
export async function manifestsIn(folder: string): Promise<{ readonly name: string; readonly number: number }[]> {
  const names = await readdir(folder).catch((error: unknown) => {
    if (errorCode(error) === 'ENOENT') return [];
    throw error;
  });
  return names
    .flatMap((name) => {
      const number = generationInName(name);
      return number === null ? [] : [{ name, number }];
    })
    .toSorted((one, other) => one.number - other.number || (one.name < other.name ? -1 : 1));
}
