import { mkdir, readFile, rm, statfs } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { QuaysideError } from '@quayside/shoot';
import { runTool } from '../drives/run-tool.ts';

/** Where the bench keeps its results; all else that it makes lies below, in `ground`, and goes at the end. */
export const BENCH_FOLDER = fileURLToPath(new URL('../../.bench/', import.meta.url));

/** The folder that the bench works in. Disposing of it deletes it. */
export interface Ground extends AsyncDisposable {
  readonly folder: string;
}

/**
 * Makes the working folder, empty.
 * @throws QuaysideError `BENCH_WANTS_SPACE` when less than this is free there; nothing is made then.
 */
export async function openGround(neededBytes: number): Promise<Ground> {
  const folder = join(BENCH_FOLDER, 'ground');
  await clear(folder);
  await mkdir(BENCH_FOLDER, { recursive: true });
  const { bavail, bsize } = await statfs(BENCH_FOLDER);
  const free = bavail * bsize;
  if (free < neededBytes) {
    throw new QuaysideError({
      code: 'BENCH_WANTS_SPACE',
      sentence: `The bench needs ${inGib(neededBytes)} of free space below ${BENCH_FOLDER}, and ${inGib(free)} are free. Make room there, or measure less with --size or --only.`,
      retry: 'never',
    });
  }
  await mkdir(folder);
  return { folder, [Symbol.asyncDispose]: () => clear(folder) };
}

/** What a bench that was killed left mounted would otherwise keep its folder from being deleted. */
async function clear(folder: string): Promise<void> {
  const table = await readFile('/proc/self/mountinfo', 'utf8').catch(() => '');
  const mounted = table.split('\n').map((line) => line.split(' ')[4] ?? '');
  for (const path of mounted.filter((one) => one.startsWith(`${folder}/`))) await runTool('umount', '--lazy', path);
  await rm(folder, { recursive: true, force: true });
}

function inGib(bytes: number): string {
  return `${(bytes / 2 ** 30).toFixed(1)} GiB`;
}
