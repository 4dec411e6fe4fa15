import type { Store } from './store.ts';
import { ask, sendAll, type View } from './view.ts';

/** The upper bounds of the buckets that times are counted in, in seconds; what takes longer is counted in the last one. */
export const STEP_SECONDS = [0.01, 0.1, 1, 10, 60, 300, 1800, 7200] as const;

/** How long the tries of one step took that ended in one way, since Redis was begun. */
export interface StepTimes {
  readonly step: string;
  readonly outcome: 'done' | 'failed';
  /** How many fell into each bucket alone; one more than there are bounds. */
  readonly counts: readonly number[];
  readonly sumSeconds: number;
}

/** Keeps how long steps take: one hash, with a field for each bucket of each step. */
export function keepStepTimes(view: View): Pick<Store, 'noteStepTime' | 'stepTimes'> {
  const key = view.key('step-times');
  return {
    async noteStepTime(step, outcome, milliseconds) {
      const bucket = STEP_SECONDS.findIndex((bound) => milliseconds <= bound * 1000);
      const at = bucket === -1 ? STEP_SECONDS.length : bucket;
      await sendAll(
        view,
        view.redis
          .multi()
          .hincrby(key, `${step} ${outcome} ${at}`, 1)
          .hincrby(key, `${step} ${outcome} sum`, Math.round(milliseconds)),
      );
    },
    async stepTimes() {
      const row = await ask(view, (redis) => redis.hgetall(key));
      const names = new Set(Object.keys(row).map((field) => field.slice(0, field.lastIndexOf(' '))));
      return [...names].toSorted().flatMap((name) => {
        const [step = '', outcome] = name.split(' ');
        if (outcome !== 'done' && outcome !== 'failed') return [];
        const counts = [...STEP_SECONDS, Infinity].map((_, at) => Number(row[`${name} ${at}`] ?? 0));
        return [{ step, outcome, counts, sumSeconds: Number(row[`${name} sum`] ?? 0) / 1000 }];
      });
    },
  };
}
