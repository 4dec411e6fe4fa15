import { once } from 'node:events';
import type { Footage } from '@quayside/step-sdk';
import { carryOut, moverDied } from './carry-out.ts';
import { forkMover } from './fork-mover.ts';

/** One mover process, seen from its parent. One piece of work at a time. */
export interface Mover extends Footage {
  readonly pid: number | undefined;
  /** False once it has died or was told to end. */
  isAlive(): boolean;
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
    close: async () => {
      if (!isAlive) return;
      const gone = once(mover, 'exit');
      if (mover.connected) mover.disconnect();
      await gone;
    },
    kill: () => void mover.kill('SIGKILL'),
  };
}
