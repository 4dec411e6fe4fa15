import { setImmediate as turn } from 'node:timers/promises';

/**
 * Looks at what keeps the process busy now, and returns how to ask later whether there is more: an open handle, a timer
 * or a server that a run left behind would go on in the next one's time.
 */
export function restOf(process: NodeJS.Process): () => Promise<boolean> {
  // Made when they are first asked for, so they are asked for now.
  const streams = [process.stdout, process.stderr];
  const before = countOf(process.getActiveResourcesInfo());
  return async () => {
    // What has just been closed is gone after a turn of the loop or two.
    for (let turns = 0; turns < 3 && streams.length > 0; turns += 1) await turn();
    const now = countOf(process.getActiveResourcesInfo());
    return [...now].every(([kind, count]) => PASSING.has(kind) || count <= (before.get(kind) ?? 0));
  };
}

// The write of a message of ours; the turn of the loop in which it is asked.
const PASSING = new Set(['Immediate', 'PipeWrap', 'ShutdownWrap', 'WriteWrap']);

function countOf(kinds: readonly string[]): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const kind of kinds) counts.set(kind, (counts.get(kind) ?? 0) + 1);
  return counts;
}
