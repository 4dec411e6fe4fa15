import { statfs } from 'node:fs/promises';

/** What an ordinary user may still write at this root, in bytes. A hint: quotas and thin volumes can hold less. */
export async function freeBytes(root: string): Promise<number> {
  const { bavail, bsize } = await statfs(root);
  return bavail * bsize;
}
