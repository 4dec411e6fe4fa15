import type { RunRequest } from '@quayside/shoot';
import type { RunnerParts } from './runner-parts.ts';

/** Does the work of a run and has its time counted. What is stopped in the middle says nothing about how long it takes. */
export async function timed<Result>(
  { store }: Pick<RunnerParts, 'store'>,
  { run, signal }: { readonly run: RunRequest; readonly signal: AbortSignal },
  work: () => Promise<Result>,
): Promise<Result> {
  const startedMs = performance.now();
  // That it cannot be counted is no failure of the run.
  const note = (outcome: 'done' | 'failed'): Promise<void> =>
    store.noteStepTime(run.step, outcome, performance.now() - startedMs).catch(() => undefined);
  try {
    const result = await work();
    await note('done');
    return result;
  } catch (error) {
    if (!signal.aborted) await note('failed');
    throw error;
  }
}
