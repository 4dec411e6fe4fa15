import { execFileSync } from 'node:child_process';
import { readdir, readFile } from 'node:fs/promises';
import type { ProcessGroup } from './process-group.ts';

/**
 * The group of what is started inside and its descendants, by their parents in `/proc`. What ended is counted with the
 * parent that waited for it, as the kernel does; the time of one that ends in the very moment of asking is lost.
 */
export function groupByParents(): ProcessGroup {
  let roots: readonly number[] = [];
  const pids = async (): Promise<readonly number[]> => {
    const all = await readProcesses();
    const found = new Set(roots.filter((root) => all.has(root)));
    // A set grows under the loop, so the children of children are met too.
    for (const parent of found) for (const [pid, one] of all) if (one.parent === parent) found.add(pid);
    return [...found];
  };
  return {
    enter: async (start) => {
      const before = new Set(await childrenOf(process.pid));
      const started = await start();
      roots = (await childrenOf(process.pid)).filter((pid) => !before.has(pid));
      return started;
    },
    pids,
    coreSeconds: async () => {
      const all = await readProcesses();
      const ticks = (await pids()).reduce((sum, pid) => sum + (all.get(pid)?.ticks ?? 0), 0);
      return ticks / ticksPerSecond();
    },
    [Symbol.asyncDispose]: async () => undefined,
  };
}

interface ProcessFacts {
  readonly parent: number;
  /** Of itself and of the children it waited for. */
  readonly ticks: number;
}

async function childrenOf(parent: number): Promise<readonly number[]> {
  return [...(await readProcesses())].flatMap(([pid, one]) => (one.parent === parent ? [pid] : []));
}

async function readProcesses(): Promise<ReadonlyMap<number, ProcessFacts>> {
  const names = (await readdir('/proc')).filter((name) => /^\d+$/.test(name));
  const texts = await Promise.all(names.map((name) => readFile(`/proc/${name}/stat`, 'utf8').catch(() => null)));
  return new Map(names.flatMap((name, index) => factsFrom(Number(name), texts[index] ?? null)));
}

/** Fields as proc_pid_stat(5) numbers them; the name in brackets may hold anything, so they are counted from its end. */
function factsFrom(pid: number, text: string | null): [number, ProcessFacts][] {
  if (text === null) return [];
  const fields = text
    .slice(text.lastIndexOf(')') + 2)
    .split(' ')
    .map(Number);
  const ticks = [14, 15, 16, 17].reduce((sum, field) => sum + (fields[field - 3] ?? 0), 0);
  return [[pid, { parent: fields[4 - 3] ?? 0, ticks }]];
}

function ticksPerSecond(): number {
  return Number(execFileSync('getconf', ['CLK_TCK'], { encoding: 'utf8' }));
}
