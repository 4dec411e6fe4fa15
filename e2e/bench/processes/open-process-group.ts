import { mkdir, readFile, rmdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { ProcessGroup } from './process-group.ts';
import { groupByParents } from './group-by-parents.ts';

let count = 0;

/**
 * Opens an empty group: a control group of the kernel where we may make one (version 2, whose `cpu.stat` counts without
 * any controller switched on), else the descendants as `/proc` shows them. Null where there is neither.
 */
export async function openProcessGroup(): Promise<ProcessGroup | null> {
  if (process.platform !== 'linux') return null;
  const home = await homeGroup();
  if (home === null) return groupByParents();
  count += 1;
  const folder = join(home, `quayside-bench-${process.pid}-${count}`);
  try {
    await mkdir(folder);
    await joinGroup(folder);
    await joinGroup(home);
  } catch {
    await rmdir(folder).catch(() => undefined);
    return groupByParents();
  }
  return {
    enter: async (start) => {
      // A process is born into its parent's group, so we go in for as long as the starting takes.
      await joinGroup(folder);
      try {
        return await start();
      } finally {
        await joinGroup(home);
      }
    },
    pids: async () => (await readFile(join(folder, 'cgroup.procs'), 'utf8')).split('\n').filter(Boolean).map(Number),
    coreSeconds: async () => {
      const microseconds = /^usage_usec (\d+)$/m.exec(await readFile(join(folder, 'cpu.stat'), 'utf8'))?.[1];
      return Number(microseconds) / 1e6;
    },
    // One that is still busy stays; it costs nothing.
    [Symbol.asyncDispose]: () => rmdir(folder).catch(() => undefined),
  };
}

async function joinGroup(folder: string): Promise<void> {
  await writeFile(join(folder, 'cgroup.procs'), String(process.pid));
}

/** The control group that we are in, as a folder; null where version 2 is not mounted. */
async function homeGroup(): Promise<string | null> {
  const mounts = await readFile('/proc/self/mountinfo', 'utf8');
  const root = mounts
    .split('\n')
    .find((line) => line.includes(' - cgroup2 '))
    ?.split(' ')[4];
  const own = /^0::(\/.*)$/m.exec(await readFile('/proc/self/cgroup', 'utf8'))?.[1];
  return root === undefined || own === undefined ? null : join(root, own);
}
