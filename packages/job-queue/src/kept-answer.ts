import { z } from 'zod';

/** An answer that was given to a request, to be given again when the same request comes again. */
export const KeptAnswer = z.object({
  /** What was asked, as a digest: another request under the same key is an error of its sender. */
  request: z.string(),
  /** Null while the first request is still being answered. */
  answer: z.object({ status: z.number(), body: z.string(), type: z.string() }).nullable(),
});
export type KeptAnswer = Readonly<z.output<typeof KeptAnswer>>;
