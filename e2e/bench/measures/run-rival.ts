import { mkdir, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { medianOf } from '../row.ts';
import { quietDisk } from './quiet-disk.ts';
import { runTimed } from './run-timed.ts';

export interface RivalRun {
  readonly seconds: number;
  /** How much longer it took until all that it had written was on the medium. */
  readonly syncSeconds: number;
}

/** Times what a person would type for two copies, into the empty folders `a` and `b`. */
export async function runRival(folder: string, line: string): Promise<RivalRun> {
  const copies = [join(folder, 'a'), join(folder, 'b')];
  try {
    for (const path of copies) await mkdir(path);
    await quietDisk();
    const seconds = await runTimed(line, folder);
    return { seconds, syncSeconds: await runTimed('sync', folder) };
  } finally {
    for (const path of copies) await rm(path, { recursive: true, force: true });
  }
}

/** What one must know of a rival's time beside ours, since it proves less. */
export function noteOnRival(rounds: readonly { readonly ours: number; readonly rival: RivalRun }[]): string {
  const sync = medianOf(rounds.map(({ rival }) => rival.syncSeconds)) ?? 0;
  const ratio = medianOf(rounds.map(({ rival, ours }) => (rival.seconds + rival.syncSeconds) / ours)) ?? 0;
  return `as typed it syncs nothing and reads its copies from memory where they still are; with \`sync\` after it (${sync.toFixed(1)} s more) the ratio is ${ratio.toFixed(2)}`;
}
