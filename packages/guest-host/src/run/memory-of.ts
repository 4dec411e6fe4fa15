import { execFile } from 'node:child_process';
import { readdir, readFile } from 'node:fs/promises';
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

/**
 * What the programs that a process has started use together: their memory in bytes, and how many they are. On Linux, whose
 * kernel tells children; elsewhere nothing is counted. It stops counting above `most`.
 */
export async function useOfPrograms(
  pid: number,
  most: number,
): Promise<{ readonly bytes: number; readonly programs: number }> {
  const pids = [...(await childrenOf(pid))];
  // The list grows under the loop, so the children of children are met too.
  for (const one of pids) if (pids.length <= most) pids.push(...(await childrenOf(one)));
  const sizes = await Promise.all(pids.slice(0, most).map(memoryOf));
  return { bytes: sizes.reduce<number>((sum, size) => sum + (size ?? 0), 0), programs: pids.length };
}

async function childrenOf(pid: number): Promise<readonly number[]> {
  if (process.platform !== 'linux') return [];
  const threads = await readdir(`/proc/${pid}/task`).catch(() => []);
  const texts = await Promise.all(
    threads.map((thread) => readFile(`/proc/${pid}/task/${thread}/children`, 'utf8').catch(() => '')),
  );
  return texts.flatMap((text) =>
    text
      .split(' ')
      .filter((word) => word !== '')
      .map(Number),
  );
}
