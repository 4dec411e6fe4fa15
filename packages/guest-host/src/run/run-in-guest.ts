import { setTimeout as wait } from 'node:timers/promises';
import type { Failure } from '@quayside/shoot';
import type { JsonValue, StepProgress } from '@quayside/step-sdk';
import type { GuestFinding, MessageFromGuest } from '../channel/message-from-guest.ts';
import { endMark } from '../channel/end-mark.ts';
import { firstNotJson } from '../channel/first-not-json.ts';
import type { RunMessage } from '../channel/message-to-guest.ts';
import type { BoundedLog } from './bounded-log.ts';
import * as failures from './failures-of-guests.ts';
import type { GuestRun } from './guest-run.ts';
import type { PauseSwitch } from './pause-switch.ts';
import type { Guest } from './start-guest.ts';
import { TimeLimit } from './time-limit.ts';
import { watchUse } from './watch-use.ts';

export interface RunOptions {
  readonly signal: AbortSignal;
  /** How long, in milliseconds, a step may take to stop before its process is ended. */
  readonly graceMs: number;
  readonly onProgress: (progress: StepProgress) => void;
  readonly log: BoundedLog;
  /** Has the run stand still while it is on. */
  readonly pause?: PauseSwitch | undefined;
}

/** How a run went as its process told it. Only after `isAtRest` may the process be used again. */
export type Ended = (
  | { readonly state: 'done'; readonly output: JsonValue; readonly findings: readonly GuestFinding[] }
  | { readonly state: 'skipped'; readonly why: string }
  | { readonly state: 'failed'; readonly failure: Failure }
  | { readonly state: 'cancelled' }
) & {
  readonly isAtRest: boolean;
};

/** For how long, in milliseconds, it was held up. */
export type HeldUp = { readonly heldUpMs: number };

const MOST_FINDINGS = 1000;
const LAST_WORDS_MS = 500;
/** Standard output and standard error. */
const STREAMS = 2;

/**
 * Makes one run in a guest's process, which must be ready and idle. It settles whatever the step does: at its answer, at the
 * end of its process, or, when a limit is passed or the signal aborts, at the latest after the grace time.
 */
export async function runInGuest(
  guest: Guest,
  run: GuestRun,
  { message, options }: { readonly message: RunMessage; readonly options: RunOptions },
): Promise<Ended & HeldUp> {
  const { promise: ended, resolve } = Promise.withResolvers<Ended>();
  const findings: GuestFinding[] = [];
  /** Set when it was told to stop: then this is how it ended, whatever it answers. */
  let stopped: Ended | null = null;
  let grace: NodeJS.Timeout | undefined;
  const { promise: allPrinted, resolve: havePrinted } = Promise.withResolvers<void>();
  let marks = 0;
  const fail = (failure: Failure): void => resolve({ state: 'failed', failure, isAtRest: false });
  const stop = (outcome: Ended, why: string): void => {
    if (stopped !== null) return;
    stopped = outcome;
    // Standing still it would hear nothing.
    guest.holdUp(false);
    guest.send({ type: 'abort', why });
    grace = setTimeout(() => resolve(outcome), options.graceMs);
  };
  const hear = (said: MessageFromGuest): void => {
    if (!('run' in said) || said.run !== message.run) return fail(failures.breached(run, 'answered for another run'));
    if (said.type === 'log') return options.log.add(said.level, said.text);
    if (said.type === 'progress') return options.onProgress(progressOf(said));
    if (stopped !== null) return said.type === 'finding' ? undefined : resolve(stopped);
    if (said.type === 'failed')
      return resolve({
        state: 'failed',
        failure: failures.failureOfTrouble(run, said.trouble),
        isAtRest: said.isAtRest,
      });
    if (said.type === 'skipped') return resolve({ state: 'skipped', why: said.why, isAtRest: said.isAtRest });
    if (said.type === 'done') return resolve(doneOr(run, said, findings));
    if (!isOfSubject(run, said.finding))
      return fail(failures.breached(run, 'told of something that is not its subject'));
    if (findings.length >= MOST_FINDINGS)
      return fail(failures.breached(run, `told of more than ${MOST_FINDINGS} findings`));
    findings.push(said.finding);
  };

  guest.listen({
    message: hear,
    printed: (line) => {
      if (line === endMark(message.run)) {
        marks += 1;
        return marks === STREAMS ? havePrinted() : undefined;
      }
      if (line.includes('heap out of memory')) fail(failures.outOfMemory(run, run.limits.memoryMb));
      options.log.add('out', line);
    },
    breach: (what) => fail(failures.breached(run, what)),
    ended: (how) => (stopped === null ? fail(failures.endedEarly(run, how)) : resolve(stopped)),
  });
  const { seconds, memoryMb, programsMb, outputMb } = run.limits;
  const limit = new TimeLimit(seconds * 1000, () =>
    stop({ state: 'failed', failure: failures.timedOut(run, seconds), isAtRest: false }, `More than ${seconds} s.`),
  );
  const unwatch = watchUse(
    {
      pid: guest.pid,
      memoryMb,
      programsMb: run.grants.includes('child-processes') ? programsMb : null,
      folder: guest.workFolder,
      outputMb,
    },
    {
      onProgramsMemory: () => fail(failures.programsOutOfMemory(run, programsMb)),
      onPrograms: (most) => fail(failures.breached(run, `had more than ${most} programs at once`)),
      onMemory: () => fail(failures.outOfMemory(run, memoryMb)),
      onDisk: () => fail(failures.outputRefused(run, `it is more than its ${outputMb} MB (\`limits.outputMb\`).`)),
    },
  );
  const onAbort = (): void => stop({ state: 'cancelled', isAtRest: false }, 'The run was stopped.');
  options.signal.addEventListener('abort', onAbort);
  if (options.signal.aborted) onAbort();
  guest.send(message);
  const unpause = options.pause?.watch((isOn) => {
    if (stopped !== null) return;
    guest.holdUp(isOn);
    if (isOn) limit.pause();
    else limit.resume();
  });
  try {
    const end = await ended;
    // What it printed before it answered comes on other streams, maybe later.
    if (end.isAtRest) await Promise.race([allPrinted, wait(LAST_WORDS_MS, undefined, { ref: false })]);
    if (!end.isAtRest) await guest.kill();
    return { ...end, heldUpMs: limit.end() };
  } finally {
    guest.listen(null);
    unwatch();
    unpause?.();
    guest.holdUp(false);
    limit.end();
    clearTimeout(grace);
    options.signal.removeEventListener('abort', onAbort);
  }
}

function progressOf({ fraction, text, secondsLeft }: Extract<MessageFromGuest, { type: 'progress' }>): StepProgress {
  return { fraction, ...(text === null ? {} : { text }), ...(secondsLeft === null ? {} : { secondsLeft }) };
}

function doneOr(
  run: GuestRun,
  { output, isAtRest }: Extract<MessageFromGuest, { type: 'done' }>,
  findings: readonly GuestFinding[],
): Ended {
  // Its own process has looked at that, if it was its own process that answered.
  if (firstNotJson(output) !== null)
    return { state: 'failed', failure: failures.breached(run, 'sent an output that nests too deep'), isAtRest: false };
  return { state: 'done', output: output as JsonValue, findings, isAtRest };
}

function isOfSubject({ subject }: GuestRun, { subject: about }: GuestFinding): boolean {
  if (about === null) return true;
  if (about.kind === 'shoot') return about.id === subject.shoot.id;
  if (about.kind === 'roll')
    return subject.kind === 'shoot' ? subject.rolls.some(({ id }) => id === about.id) : subject.roll.id === about.id;
  return subject.kind === 'clip' ? subject.clip.id === about.id : subject.clips.some(({ id }) => id === about.id);
}
