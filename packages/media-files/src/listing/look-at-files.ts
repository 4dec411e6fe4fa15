import type { Stats } from 'node:fs';
import { fileCalls } from '../direct-io/file-calls.ts';
import { forEachAtOnce } from '../workbench/for-each-at-once.ts';

/** Asking for one after the other takes three times the processor time: each waits for another thread to wake. */
const LOOKS_AT_ONCE = 64;

/** What lies at each of these paths, in their order, or why it cannot be told. No link is followed and nothing is opened. */
export async function lookAtFiles(paths: readonly (string | Buffer)[]): Promise<readonly (Stats | Error)[]> {
  const found: (Stats | Error)[] = [];
  await forEachAtOnce([...paths.entries()], LOOKS_AT_ONCE, async ([index, path]) => {
    found[index] = await fileCalls.lstat(path).catch((error: unknown) => asError(error));
  });
  return found;
}

function asError(error: unknown): Error {
  return error instanceof Error ? error : new Error(String(error));
}
