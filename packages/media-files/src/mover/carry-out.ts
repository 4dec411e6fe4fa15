import type { ChildProcess } from 'node:child_process';
import { QuaysideError } from '@quayside/shoot';
import type { WorkControls } from '@quayside/step-sdk/built-in';
import type { MoverChild } from './fork-mover.ts';
import { Answer, type Order } from './mover-messages.ts';
import { whenAborted } from './when-aborted.ts';

/** I/O that hangs in the kernel cannot be called off, only left alone. Longer than any drive takes to flush what it was given. */
const STALL_MS = 5 * 60_000;

export type FinalAnswer = Exclude<Answer, { kind: 'bytes' | 'failed' }>;

/**
 * Has a mover's process carry out one order. When the signal aborts it is asked to stop, and killed after `graceMs`.
 * @throws QuaysideError the failure it answers, or `MOVER_DIED` when it ends without an answer.
 */
export function carryOut(
  child: MoverChild,
  order: Order,
  controls: WorkControls & { readonly graceMs: number; readonly stallMs?: number },
): Promise<FinalAnswer> {
  const { process: mover, lastWords } = child;
  const { signal, onBytes, graceMs, stallMs = STALL_MS } = controls;
  return new Promise((resolve, reject) => {
    let killTimer: NodeJS.Timeout | null = null;
    let stallTimer: NodeJS.Timeout | null = null;
    const watchForStall = (): void => {
      if (stallTimer !== null) clearTimeout(stallTimer);
      stallTimer = setTimeout(() => {
        mover.kill('SIGKILL');
        end(() => reject(moverDied(`no byte moved for ${stallMs / 60_000} minutes, so a drive hangs`)));
      }, stallMs);
    };
    const end = (settle: () => void): void => {
      if (killTimer !== null) clearTimeout(killTimer);
      if (stallTimer !== null) clearTimeout(stallTimer);
      stopWatching();
      mover.off('message', take).off('exit', lose);
      settle();
    };
    const take = (message: unknown): void => {
      const answer = Answer.parse(message);
      watchForStall();
      if (answer.kind === 'bytes') onBytes(answer.bytes);
      else if (answer.kind === 'failed') end(() => reject(new QuaysideError(answer.failure)));
      else end(() => resolve(answer));
    };
    const lose = (): void => end(() => reject(moverDied(lastWords() || 'it was killed from outside')));
    const stop = (): void => {
      send(mover, { kind: 'stop' });
      killTimer = setTimeout(() => {
        mover.kill('SIGKILL');
        // It may hang in the kernel, where not even this ends it; nobody waits for that.
        end(() => reject(moverDied(`it did not stop within ${graceMs} ms`)));
      }, graceMs);
    };
    mover.on('message', take).on('exit', lose);
    watchForStall();
    send(mover, order);
    const stopWatching = whenAborted(signal, stop);
  });
}

/** The error for work whose process has ended before the work has. */
export function moverDied(why: string): QuaysideError {
  return new QuaysideError({
    code: 'MOVER_DIED',
    sentence: `The process that moved the footage ended before its work was done (${why}). Nothing half-written has a final name; the work is done again.`,
    retry: 'later',
  });
}

function send(child: ChildProcess, order: Order): void {
  // A failure to send means that it has ended or is about to: the exit tells.
  if (child.connected) child.send(order, () => undefined);
}
