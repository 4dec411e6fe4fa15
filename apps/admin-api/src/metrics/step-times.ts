import { STEP_SECONDS, type StepTimes } from '@quayside/job-queue';
import { Histogram, type Registry } from 'prom-client';

const NAME = 'quayside_step_duration_seconds';

/** Adds how long steps took as a histogram, from counts that were made elsewhere: what the library would count itself is put in their place. */
export function addStepTimes(registry: Registry, times: readonly StepTimes[]): void {
  const help = 'How long tries of steps took, by step and by how they ended.';
  const histogram = new Histogram({
    name: NAME,
    help,
    labelNames: ['step', 'outcome'],
    buckets: [...STEP_SECONDS],
    registers: [registry],
  });
  const counted = { name: NAME, help, type: 'histogram', values: times.flatMap(valuesOf), aggregator: 'sum' };
  Object.assign(histogram, { getForPromString: async () => counted });
}

function valuesOf({ step, outcome, counts, sumSeconds }: StepTimes): readonly object[] {
  let total = 0;
  const buckets = counts.map((count, at) => {
    total += count;
    const le = STEP_SECONDS[at] ?? '+Inf';
    return { metricName: `${NAME}_bucket`, labels: { step, outcome, le }, value: total };
  });
  return [
    ...buckets,
    { metricName: `${NAME}_sum`, labels: { step, outcome }, value: sumSeconds },
    { metricName: `${NAME}_count`, labels: { step, outcome }, value: total },
  ];
}
