import type { Footage, WorkControls } from '@quayside/step-sdk/built-in';
import { createSlots } from './slots.ts';
import { type Mover, type MoverOptions, startMover } from './start-mover.ts';

export interface FootageOptions extends MoverOptions {
  /** How many pieces of work may write to or read from a destination at once. 1 for a spinning disk. */
  readonly parallelPerDestination: (name: string) => number;
  /** How long a mover with nothing to do is kept, in milliseconds; 10 s when not given. */
  readonly idleMs?: number;
}

const DEFAULT_IDLE_MS = 10_000;

/**
 * The footage capability over throw-away processes. A copy runs in a mover of its volume's lane, a read-back in one of its
 * destination's: a drive that hangs in the kernel takes nothing else along.
 */
export function createFootage(
  options: FootageOptions,
): Footage & Pick<Mover, 'isAnswering'> & { close(): Promise<void> } {
  const { parallelPerDestination, idleMs = DEFAULT_IDLE_MS } = options;
  const slots = createSlots(parallelPerDestination);
  const movers = new Set<Mover>();
  const idle = new Map<string, IdleMover[]>();

  const inLane = async <Value>(lane: string, work: (mover: Mover) => Promise<Value>): Promise<Value> => {
    const mover = takeIdle(idle, lane) ?? startMover(options);
    movers.add(mover);
    try {
      return await work(mover);
    } finally {
      if (mover.isAlive()) putIdle(mover, lane);
      else movers.delete(mover);
    }
  };

  const putIdle = (mover: Mover, lane: string): void => {
    const timer = setTimeout(() => {
      idle.set(
        lane,
        (idle.get(lane) ?? []).filter((entry) => entry.mover !== mover),
      );
      movers.delete(mover);
      void mover.close();
    }, idleMs);
    timer.unref();
    idle.set(lane, [...(idle.get(lane) ?? []), { mover, timer }]);
  };

  return {
    copy: (request, controls: WorkControls) => {
      const names = request.destinations.map(({ name }) => name);
      const lane = `volume ${request.mount.mountId} ${request.mount.path}`;
      return slots.hold(names, controls.signal, () => inLane(lane, (mover) => mover.copy(request, controls)));
    },
    recopy: (request, controls: WorkControls) => {
      const names = [request.from, ...request.destinations].map(({ name }) => name);
      const lane = `destination ${request.from.name}`;
      return slots.hold(names, controls.signal, () => inLane(lane, (mover) => mover.recopy(request, controls)));
    },
    readBack: (request, controls: WorkControls) => {
      const { name } = request.destination;
      const lane = `destination ${name}`;
      return slots.hold([name], controls.signal, () => inLane(lane, (mover) => mover.readBack(request, controls)));
    },
    isAnswering: (mount, signal) => inLane(`asking ${mount.path}`, (mover) => mover.isAnswering(mount, signal)),
    close: async () => {
      for (const lane of idle.values()) for (const { timer } of lane) clearTimeout(timer);
      idle.clear();
      await Promise.all([...movers].map((mover) => mover.close()));
      movers.clear();
    },
  };
}

interface IdleMover {
  readonly mover: Mover;
  readonly timer: NodeJS.Timeout;
}

/** The one that was busy last: its memory is the warmest, and the others may end. */
function takeIdle(idle: Map<string, IdleMover[]>, lane: string): Mover | null {
  for (;;) {
    const entry = idle.get(lane)?.pop();
    if (entry === undefined) return null;
    clearTimeout(entry.timer);
    if (entry.mover.isAlive()) return entry.mover;
  }
}
