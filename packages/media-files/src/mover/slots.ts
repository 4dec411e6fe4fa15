import type { StopSignal } from '@quayside/step-sdk/built-in';
import { whenAborted } from './when-aborted.ts';

/** A limit per destination. */
export interface Slots {
  /** Runs `work` holding a slot of each name. Waiting ends with what the signal throws when it aborts. */
  hold<Value>(names: readonly string[], signal: StopSignal, work: () => Promise<Value>): Promise<Value>;
}

/** Slots are taken in sorted order of names: two pieces of work that want the same two never wait for each other. */
export function createSlots(limitOf: (name: string) => number): Slots {
  const taken = new Map<string, number>();
  const waiting = new Map<string, Set<() => void>>();

  const take = async (name: string, signal: StopSignal): Promise<void> => {
    while ((taken.get(name) ?? 0) >= Math.max(1, limitOf(name))) await waitForTurn(name, signal);
    taken.set(name, (taken.get(name) ?? 0) + 1);
  };

  const waitForTurn = async (name: string, signal: StopSignal): Promise<void> => {
    const queue = waiting.get(name) ?? new Set();
    waiting.set(name, queue);
    await new Promise<void>((resolve) => {
      const wake = (): void => {
        queue.delete(wake);
        stopWatching();
        resolve();
      };
      let stopWatching = nothing;
      queue.add(wake);
      stopWatching = whenAborted(signal, wake);
    });
    signal.throwIfAborted();
  };

  const free = (name: string): void => {
    taken.set(name, (taken.get(name) ?? 1) - 1);
    // All are woken and look again, in the order they came: one that gave up meanwhile must not swallow the turn.
    for (const wake of waiting.get(name) ?? []) wake();
  };

  return {
    hold: async (names, signal, work) => {
      const held: string[] = [];
      try {
        for (const name of [...new Set(names)].toSorted()) {
          await take(name, signal);
          held.push(name);
        }
        return await work();
      } finally {
        for (const name of held) free(name);
      }
    },
  };
}

function nothing(): void {}
