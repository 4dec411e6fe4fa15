import { z } from 'zod';

/** A time in seconds as an exact fraction in lowest terms; negative is earlier. */
export const ExactSeconds = z.object({ numerator: z.number().int(), denominator: z.number().int().positive() });
export type ExactSeconds = z.output<typeof ExactSeconds>;
