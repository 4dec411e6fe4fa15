import { realpath } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';

/** The path with its links resolved, as far as it exists: what is not there yet is kept as it is written. */
export async function realPathOf(path: string): Promise<string> {
  try {
    return await realpath(path);
  } catch {
    const parent = dirname(path);
    return parent === path ? path : join(await realPathOf(parent), basename(path));
  }
}
