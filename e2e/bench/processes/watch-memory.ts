import { readFile } from 'node:fs/promises';
import { setTimeout as wait } from 'node:timers/promises';
import { processNameOf } from '../../service/service-processes.ts';
import type { ProcessGroup } from './process-group.ts';

/** Proportional set sizes in bytes: each process with its share of what it has in common with others. */
export interface MemoryUse {
  readonly all: number;
  /** Of the processes that touch footage. */
  readonly movers: number;
  readonly byName: Readonly<Record<string, number>>;
}

/** The moment at which the movers used the most; `most` is the highest of all processes together, maybe at another moment. */
export type PeakMemory = MemoryUse & { readonly most: number };

/** What the group's processes use at this moment. One that ends meanwhile counts as nothing. */
export async function memoryOf(group: ProcessGroup): Promise<MemoryUse> {
  const sizes = await Promise.all((await group.pids()).map(sizeOf));
  const byName: Record<string, number> = {};
  for (const { name, bytes } of sizes) byName[name] = (byName[name] ?? 0) + bytes;
  return { all: sizes.reduce((sum, { bytes }) => sum + bytes, 0), movers: byName['movers'] ?? 0, byName };
}

/** Looks at the memory again and again until `peak` is called. */
export function watchMemory(group: ProcessGroup, everyMs: number): { peak(): Promise<PeakMemory> } {
  const over = new AbortController();
  let highest: MemoryUse = { all: 0, movers: -1, byName: {} };
  let most = 0;
  const watching = (async () => {
    while (!over.signal.aborted) {
      const now = await memoryOf(group);
      if (now.movers > highest.movers) highest = now;
      most = Math.max(most, now.all);
      await wait(everyMs, undefined, { signal: over.signal }).catch(() => undefined);
    }
  })();
  return {
    async peak() {
      over.abort();
      await watching;
      return { ...highest, most };
    },
  };
}

async function sizeOf(pid: number): Promise<{ readonly name: string; readonly bytes: number }> {
  try {
    const [sizes, command] = await Promise.all([
      readFile(`/proc/${pid}/smaps_rollup`, 'utf8'),
      readFile(`/proc/${pid}/cmdline`, 'utf8'),
    ]);
    const kibibytes = Number(/^Pss:\s+(\d+) kB$/m.exec(sizes)?.[1] ?? 0);
    return { name: processNameOf(command), bytes: kibibytes * 1024 };
  } catch {
    return { name: 'other', bytes: 0 };
  }
}
