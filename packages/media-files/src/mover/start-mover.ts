import { once } from 'node:events';
import { failureOf, type Mount } from '@quayside/shoot';
import type { Footage, StopSignal } from '@quayside/step-sdk/built-in';
import { carryOut, moverDied } from './carry-out.ts';
import { forkMover } from './fork-mover.ts';

/** One mover process, seen from its parent. One piece of work at a time. */
export interface Mover extends Footage {
  readonly pid: number | undefined;
  /** False once it has died or was told to end. */
  isAlive(): boolean;
  /** Whether anything on a volume can be read. One that says nothing, however long it is asked, does not answer. */
  isAnswering(mount: Mount, signal: StopSignal): Promise<boolean>;
  /** Ends it, and waits for that. */
  close(): Promise<void>;
  /** Ends it now, whatever it does. What it leaves half-done, the next run repairs. */
  kill(): void;
}

export interface MoverOptions {
  /** How long, in milliseconds, it may take to stop after the signal before it is killed. */
  readonly graceMs?: number;
}

const DEFAULT_GRACE_MS = 5000;
/** A drive that spins up takes a while; one that takes longer cannot be worked with. */
const ASKING_MS = 30_000;

/** Starts a mover process. It ends by itself when this process does. */
export function startMover({ graceMs = DEFAULT_GRACE_MS }: MoverOptions = {}): Mover {
  const child = forkMover();
  const { process: mover } = child;
  let isAlive = true;
  mover.once('exit', () => {
    isAlive = false;
  });
  const throwIfDead = (): void => {
    if (!isAlive) throw moverDied('it had ended before');
  };

  return {
    pid: mover.pid,
    isAlive: () => isAlive && !mover.killed,
    copy: async (request, controls) => {
      throwIfDead();
      const answer = await carryOut(child, { kind: 'copy', request }, { ...controls, graceMs });
      return answer.kind === 'copied' ? answer.outcomes : [];
    },
    recopy: async (request, controls) => {
      throwIfDead();
      const answer = await carryOut(child, { kind: 'recopy', request }, { ...controls, graceMs });
      return answer.kind === 'recopied' ? { copies: answer.copies, bad: answer.bad } : { copies: [], bad: [] };
    },
    readBack: async (request, controls) => {
      throwIfDead();
      const answer = await carryOut(child, { kind: 'readBack', request }, { ...controls, graceMs });
      return answer.kind === 'readBack' ? answer.outcomes : [];
    },
    isAnswering: async (mount, signal) => {
      throwIfDead();
      const controls = { signal, onBytes: () => undefined, graceMs, stallMs: ASKING_MS };
      const answer = await carryOut(child, { kind: 'ask', mount }, controls).catch((error: unknown) => {
        signal.throwIfAborted();
        return failureOf(error);
      });
      return 'kind' in answer && answer.kind === 'asked' && answer.isAnswering;
    },
    close: async () => {
      if (!isAlive) return;
      const gone = once(mover, 'exit');
      if (mover.connected) mover.disconnect();
      await gone;
    },
    kill: () => void mover.kill('SIGKILL'),
  };
}
