import { type Failure, failureOf, QuaysideError, RunRequest } from '@quayside/shoot';
import { DelayedError, type Job, UnrecoverableError, WaitingError } from 'bullmq';
import type { RunHandler } from './queue.ts';
import type { RunRules } from './run-rules.ts';
import type { ThinnedLog } from './thinned-log.ts';

/** One try at a job, as BullMQ hands it over. */
export interface Attempt {
  readonly job: Job;
  readonly token: string | undefined;
  readonly signal: AbortSignal | undefined;
}

export interface RunContext {
  readonly handler: RunHandler;
  readonly rules: RunRules;
  readonly log: ThinnedLog;
  readonly isStopping: () => boolean;
}

/**
 * Makes one try at a run and says by what it throws what becomes of the job. Nothing thrown: done. An ordinary error:
 * another try. `UnrecoverableError`: given up. `WaitingError` and `DelayedError`: put back, and no try is used up.
 */
export async function makeRun(attempt: Attempt, context: RunContext): Promise<void> {
  const { job } = attempt;
  const { handler, rules } = context;
  // Taken from the queue in the moment of stopping, too late for the abort.
  if (context.isStopping()) return putBack(attempt);
  const request = RunRequest.safeParse(job.data);
  if (!request.success) {
    context.log('run', `The queue held something that is not a run (${job.id}). It is dropped.`);
    throw new UnrecoverableError('not a run');
  }
  const run = request.data;
  if (job.stalledCounter > rules.crashes) return giveUp(attempt, context, { run, failure: keepsCrashing(run, rules) });
  const stop = stopSignal(attempt.signal, run);
  try {
    await handler.run(run, stop);
  } catch (error) {
    // What fails after the abort says nothing about the run.
    if (stop.aborted && context.isStopping()) return putBack(attempt);
    // The lock is lost: the job is somebody else's already, and BullMQ turns down whatever is done about it here.
    if (stop.aborted) throw error;
    const failure = failureOf(error);
    if (failure.retry === 'later' && job.attemptsMade + 1 < rules.attempts) throw error;
    return giveUp(attempt, context, { run, failure });
  }
}

// Told first and given up after, so that a crash in between brings the run back instead of losing the failure.
async function giveUp(
  { job, token }: Attempt,
  { handler, rules, log }: RunContext,
  { run, failure }: { readonly run: RunRequest; readonly failure: Failure },
): Promise<never> {
  try {
    await handler.failed(run, failure);
  } catch (error) {
    log('run', `That run ${run.id} failed could not be noted: ${failureOf(error).sentence} The run is made again.`);
    await job.moveToDelayed(Date.now() + rules.firstPauseMs * 10, token);
    throw new DelayedError(failure.sentence);
  }
  throw new UnrecoverableError(failure.sentence);
}

async function putBack({ job, token }: Attempt): Promise<never> {
  await job.moveToWait(token);
  throw new WaitingError();
}

function keepsCrashing(run: RunRequest, { crashes }: RunRules): Failure {
  return {
    code: 'RUN_KEEPS_CRASHING',
    sentence: `Step "${run.step}" on "${run.subject}" lost its worker more than ${crashes} times, so it is given up. See the service's log for what ended the workers, then retry it.`,
    retry: 'never',
  };
}

// A signal of our own, because BullMQ aborts with a bare string, which would then be thrown as one.
function stopSignal(signal: AbortSignal | undefined, run: RunRequest): AbortSignal {
  const stop = new AbortController();
  const pass = (): void => {
    const sentence = `Step "${run.step}" on "${run.subject}" was stopped (${String(signal?.reason)}). It is made again.`;
    stop.abort(new QuaysideError({ code: 'RUN_STOPPED', sentence, retry: 'later' }));
  };
  signal?.addEventListener('abort', pass, { once: true });
  if (signal?.aborted === true) pass();
  return stop.signal;
}
