import { z } from 'zod';

/** What an estimate rests on, in the words of a report. */
export const EstimateBasis = z.enum([
  'published table',
  'scaled from the published table',
  'bit rate asked for',
  'measured here',
  'measured here at another size',
  'measured here with another codec',
  'never measured here',
]);
export type EstimateBasis = z.output<typeof EstimateBasis>;

/** A number that is not known yet: what is expected, and the range that it should lie in. `low <= expected <= high`. */
export const Estimate = z.object({
  expected: z.number().nonnegative(),
  low: z.number().nonnegative(),
  high: z.number().nonnegative(),
});
export type Estimate = z.output<typeof Estimate>;

export const BasedEstimate = Estimate.extend({ basis: EstimateBasis });
export type BasedEstimate = z.output<typeof BasedEstimate>;

/** The sum of estimates, whose errors are taken to fall all to one side. */
export function addEstimates(estimates: Iterable<Estimate>): Estimate {
  const sum = { expected: 0, low: 0, high: 0 };
  for (const { expected, low, high } of estimates) {
    sum.expected += expected;
    sum.low += low;
    sum.high += high;
  }
  return sum;
}
