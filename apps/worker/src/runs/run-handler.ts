import { applyRollEvent, type RunHandler } from '@quayside/job-queue';
import { wantedRuns, type RollEvent } from '@quayside/pipeline';
import { QuaysideError, type Failure, type RunRequest, ShootStep } from '@quayside/shoot';
import { runStep, type Step } from '@quayside/step-sdk/built-in';
import { eventOfFailure, eventOfOutput } from './events-of-run.ts';
import { letWaitingRollsGo } from '../shoots/order-copying.ts';
import { makeWay } from './make-way.ts';
import { noteInterruption } from './note-interruption.ts';
import { timed } from './timed.ts';
import { RestingRuns } from './resting-runs.ts';
import { RollGate } from './roll-gate.ts';
import { runForShoot } from './run-for-shoot.ts';
import type { RunnerParts, StepRun } from './runner-parts.ts';
import { Turns } from './turns.ts';

/** Runs one step for the queue and lets its roll know what came of it, before the queue counts the run as done. */
export function makeRunHandler(parts: RunnerParts): RunHandler {
  const gate = new RollGate();
  const inTurn = new Turns();
  const resting = new RestingRuns();
  const isLeftAlone = async (run: RunRequest): Promise<boolean> =>
    resting.isResting(run.id) && !(await isAskedForAgain(parts, run));
  return {
    run: async (run, signal) => {
      const step = stepOf(parts, run);
      if (step.scope === 'shoot') {
        if (!(await isLeftAlone(run)))
          return timed(parts, { run, signal }, () => runForShoot(parts, { step, run }, signal));
        // Nobody may wait for what is left alone for now.
        return run.step === 'sync-grouping' ? letWaitingRollsGo(parts, run.subject) : undefined;
      }
      await gate.run(run.subject, run.step === 'move', () =>
        inTurn.take(turnOf(run), async () => {
          // Another run may have done it meanwhile, or a retry may have put a newer one in its place.
          if (!(await isStillWanted(parts, run))) return;
          if (run.step !== 'reread') return makeRun(parts, { step, run }, signal);
          return makeWay(parts.store, signal, (stop) => makeRun(parts, { step, run }, stop));
        }),
      );
    },
    async failed(run, failure) {
      parts.log(`${run.step} failed: ${failure.sentence}`, { run: run.id, code: failure.code });
      resting.rest(run.id);
      if (run.step === 'sync-grouping') await letWaitingRollsGo(parts, run.subject);
      if (failure.retry === 'source') await noteInterruption(parts, run, new AbortController().signal);
      await noteFailure(parts, run, failure);
    },
  };
}

const COPYING: ReadonlySet<string> = new Set(['ingest', 'recopy']);
const SEALING: ReadonlySet<string> = new Set(['seal', 'attest']);

/** Two runs that write the same files at the same destinations must not overlap: each would take the other's for a stranger's. */
function turnOf(run: RunRequest): string | null {
  const { destination } = run.inputs;
  if (COPYING.has(run.step)) return `ingest ${run.subject}`;
  // One thing at a time is read again, whatever it is of.
  if (run.step === 'reread') return 'reread';
  return SEALING.has(run.step) ? `seal ${run.subject} ${JSON.stringify(destination)}` : null;
}

async function isStillWanted({ store }: RunnerParts, run: RunRequest): Promise<boolean> {
  if (run.step === 'intake') return true;
  const roll = await store.roll(run.subject);
  return roll !== null && wantedRuns(roll).some(({ id }) => id === run.id);
}

function stepOf({ steps }: RunnerParts, run: RunRequest): Step {
  const step = steps.get(run.step);
  if (step !== undefined) return step;
  throw new QuaysideError({
    code: 'UNKNOWN_STEP',
    sentence: `No plugin has a step "${run.step}". Check which plugins are loaded.`,
    retry: 'never',
  });
}

async function makeRun(parts: RunnerParts, { step, run }: StepRun, signal: AbortSignal): Promise<void> {
  await noteStart(parts, run);
  const meter = parts.meter.open(run);
  try {
    const output = await timed(parts, { run, signal }, () =>
      runStep(
        step,
        { config: parts.configOf(run.step), input: run.inputs },
        {
          ...parts.capabilities,
          signal,
          log: (sentence) => parts.log(sentence, { run: run.id }),
          progress: ({ bytes }) => meter.note(bytes ?? 0),
        },
      ),
    );
    await apply(parts, run, eventOfOutput(run, output, new Date().toISOString()));
  } finally {
    meter.close();
  }
}

async function noteStart(parts: RunnerParts, run: RunRequest): Promise<void> {
  if (!COPYING.has(run.step)) return;
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
      data: { step: run.step, code: failure.code, run: run.id },
    },
  ]);
  const shootStep = ShootStep.safeParse(run.step);
  if (shootStep.success) await parts.store.noteShootFailure(run.subject, shootStep.data, failure);
  if (parts.steps.get(run.step)?.scope !== 'shoot') await apply(parts, run, eventOfFailure(run, failure, now));
}

/** Whoever asks for a shoot's run again has its failure forgotten. */
async function isAskedForAgain({ store }: RunnerParts, { step, subject }: RunRequest): Promise<boolean> {
  const shootStep = ShootStep.safeParse(step);
  return shootStep.success && (await store.shootProgress(subject)).failed?.[shootStep.data] === undefined;
}

async function apply(parts: RunnerParts, run: RunRequest, event: RollEvent | null): Promise<void> {
  if (event === null) return;
  await applyRollEvent(parts, run.subject, { event, now: new Date().toISOString() });
}
