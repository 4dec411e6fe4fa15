import { lstat, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { isEmptyFolder } from './run-folders.ts';

export type FoundFiles =
  | { readonly refused: null; readonly files: readonly { readonly path: string; readonly sizeInBytes: number }[] }
  | { readonly refused: string };

const MOST_FILES = 10_000;
const MB = 1e6;

/**
 * What lies in a guest's output folder. Refused is whatever could lead out of it or surprise who reads it: links, devices,
 * names that some file systems cannot hold, and more than the limit.
 */
export async function outputFilesIn(folder: string, limitMb: number): Promise<FoundFiles> {
  if (isEmptyFolder(folder)) return { refused: null, files: [] };
  if (!(await lstat(folder)).isDirectory()) return { refused: 'the folder itself was replaced.' };
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  if (entries.length > MOST_FILES) return { refused: `there are more than ${MOST_FILES} files.` };
  const files: { path: string; sizeInBytes: number }[] = [];
  let total = 0;
  for (const entry of entries) {
    const full = join(entry.parentPath, entry.name);
    const path = full.slice(folder.length + 1);
    if (!isPlainName(entry.name)) return { refused: `the name "${path}" is not one that every file system can hold.` };
    if (entry.isDirectory()) continue;
    const status = await lstat(full);
    // A second name of a file elsewhere would be written to through this one.
    if (!status.isFile() || status.nlink > 1) return { refused: `"${path}" is not a file of its own.` };
    total += status.size;
    if (total > limitMb * MB) return { refused: `it is more than its ${limitMb} MB (\`limits.outputMb\`).` };
    files.push({ path, sizeInBytes: status.size });
  }
  return { refused: null, files: files.toSorted((one, other) => (one.path < other.path ? -1 : 1)) };
}

function isPlainName(name: string): boolean {
  return Buffer.byteLength(name) <= 200 && /^[^\p{Cc}\p{Cs}\\/:*?"<>|]+$/u.test(name) && !/[. ]$/.test(name);
}
