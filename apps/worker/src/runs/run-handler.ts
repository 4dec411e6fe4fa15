import { applyRollEvent, type RunHandler, type RunQueue, type Store } from '@quayside/job-queue';
import { wantedRuns, type RollEvent } from '@quayside/pipeline';
import { QuaysideError, type Failure, type RunRequest } from '@quayside/shoot';
import { runStep, type Capabilities, type Step } from '@quayside/step-sdk';
import type { ProgressMeter } from '../upkeep/progress-meter.ts';
import { eventOfFailure, eventOfOutput } from './events-of-run.ts';
import { RollGate } from './roll-gate.ts';
import { Turns } from './turns.ts';

export interface RunnerParts {
  readonly store: Store;
  readonly queue: RunQueue;
  readonly steps: ReadonlyMap<string, Step>;
  readonly configOf: (step: string) => unknown;
  readonly capabilities: Capabilities;
  readonly meter: ProgressMeter;
  readonly log: (sentence: string, about?: object) => void;
}

/** Runs one step for the queue and lets its roll know what came of it, before the queue counts the run as done. */
export function makeRunHandler(parts: RunnerParts): RunHandler {
  const gate = new RollGate();
  const inTurn = new Turns();
  return {
    run: (run, signal) =>
      gate.run(run.subject, run.step === 'move', () =>
        inTurn.take(turnOf(run), async () => {
          // Another run may have done it meanwhile, or a retry may have put a newer one in its place.
          if (await isStillWanted(parts, run)) await makeRun(parts, run, signal);
        }),
      ),
    async failed(run, failure) {
      parts.log(`${run.step} failed: ${failure.sentence}`, { run: run.id, code: failure.code });
      await noteFailure(parts, run, failure);
    },
  };
}

/** Two runs that write the same files at the same destinations must not overlap: each would take the other's for a stranger's. */
function turnOf(run: RunRequest): string | null {
  const { destination } = run.inputs;
  if (run.step === 'ingest') return `ingest ${run.subject}`;
  return run.step === 'seal' ? `seal ${run.subject} ${JSON.stringify(destination)}` : null;
}

async function isStillWanted({ store }: RunnerParts, run: RunRequest): Promise<boolean> {
  if (run.step === 'intake') return true;
  const roll = await store.roll(run.subject);
  return roll !== null && wantedRuns(roll).some(({ id }) => id === run.id);
}

async function makeRun(parts: RunnerParts, run: RunRequest, signal: AbortSignal): Promise<void> {
  const step = parts.steps.get(run.step);
  if (step === undefined)
    throw new QuaysideError({
      code: 'UNKNOWN_STEP',
      sentence: `No plugin has a step "${run.step}". Check which plugins are loaded.`,
      retry: 'never',
    });
  await noteStart(parts, run);
  const meter = parts.meter.open(run);
  try {
    const output = await runStep(
      step,
      { config: parts.configOf(run.step), input: run.inputs },
      {
        ...parts.capabilities,
        signal,
        log: (sentence) => parts.log(sentence, { run: run.id }),
        progress: ({ bytes }) => meter.note(bytes ?? 0),
      },
    );
    await apply(parts, run, eventOfOutput(run, output, new Date().toISOString()));
  } finally {
    meter.close();
  }
}

async function noteStart(parts: RunnerParts, run: RunRequest): Promise<void> {
  if (run.step !== 'ingest') return;
  const { visit, parcel, destinations } = run.inputs;
  if (typeof visit !== 'number' || typeof parcel !== 'number' || !Array.isArray(destinations)) return;
  await apply(parts, run, { type: 'parcelStarted', visit, parcel, destinations: destinations.map(String) });
}

async function noteFailure(parts: RunnerParts, run: RunRequest, failure: Failure): Promise<void> {
  const now = new Date().toISOString();
  await parts.store.publish([
    {
      type: 'run.failed',
      at: now,
      subject: run.subject,
      sentence: failure.sentence,
      data: { step: run.step, code: failure.code },
    },
  ]);
  await apply(parts, run, eventOfFailure(run, failure, now));
}

async function apply(parts: RunnerParts, run: RunRequest, event: RollEvent | null): Promise<void> {
  if (event === null) return;
  await applyRollEvent(parts, run.subject, { event, now: new Date().toISOString() });
}
