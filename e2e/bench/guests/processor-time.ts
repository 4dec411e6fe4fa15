import { readFile } from 'node:fs/promises';

/**
 * Milliseconds of processor time, user and system, that a process and those of its children that have ended have used;
 * proc_pid_stat(5) counts it in hundredths of a second.
 */
export async function processorMs(pid: number): Promise<number> {
  const text = await readFile(`/proc/${pid}/stat`, 'utf8');
  const fields = text.slice(text.lastIndexOf(')') + 2).split(' ');
  return [14, 15, 16, 17].reduce((sum, field) => sum + Number(fields[field - 3]), 0) * 10;
}

/** The resident memory of a process in bytes. */
export async function residentBytes(pid: number): Promise<number> {
  const text = await readFile(`/proc/${pid}/status`, 'utf8');
  return Number(/^VmRSS:\s+(\d+) kB$/m.exec(text)?.[1]) * 1024;
}
