import { execFile } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import { promisify } from 'node:util';

const PAGE_BYTES = 4096;

/** The resident memory of a process in bytes, or null when it cannot be told or is over. */
export async function memoryOf(pid: number): Promise<number | null> {
  if (process.platform === 'linux') {
    // proc(5): the second field of statm counts pages that are resident.
    const [, pages] = (await readFile(`/proc/${pid}/statm`, 'utf8').catch(() => '')).split(' ');
    return pages === undefined ? null : Number(pages) * PAGE_BYTES;
  }
  const told = await promisify(execFile)('ps', ['-o', 'rss=', '-p', String(pid)]).catch(() => null);
  const kib = Number(told?.stdout.trim());
  return Number.isFinite(kib) && kib > 0 ? kib * 1024 : null;
}
