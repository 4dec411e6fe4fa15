import { createHash } from 'node:crypto';
import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';

/** A digest of the names, sizes and times of a file, or of all files of a folder but what is installed in it. */
export async function stateOfFiles(path: string): Promise<string> {
  const hash = createHash('sha256');
  for (const file of await filesAt(path)) {
    const { size, mtimeNs } = await stat(file, { bigint: true });
    hash.update(`${file}\0${size}\0${mtimeNs}\n`);
  }
  return hash.digest('hex').slice(0, 32);
}

async function filesAt(path: string): Promise<readonly string[]> {
  if (!(await stat(path)).isDirectory()) return [path];
  const entries = await readdir(path, { withFileTypes: true });
  const own = entries.filter(({ name }) => name !== 'node_modules' && !name.startsWith('.'));
  const files: string[] = [];
  for (const entry of own.toSorted((one, other) => (one.name < other.name ? -1 : 1))) {
    const full = join(path, entry.name);
    if (entry.isDirectory()) files.push(...(await filesAt(full)));
    else if (entry.isFile()) files.push(full);
  }
  return files;
}
