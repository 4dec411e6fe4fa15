import { z } from 'zod';

/** A problem document (RFC 9457): what every answer from status 400 on holds, as `application/problem+json`. */
export const Problem = z.object({
  type: z
    .string()
    .describe('What kind of problem it is: a URI reference that explains itself, such as /problems/roll-unknown.'),
  title: z.string(),
  status: z.int(),
  detail: z.string().describe('One sentence for the operator: what, where, why and what to do.'),
  instance: z.string().optional().describe('The id of this request in the log of the service.'),
  errors: z
    .array(z.object({ detail: z.string(), pointer: z.string() }))
    .optional()
    .describe('The values that cannot be used; `pointer` is a JSON Pointer into the body, the query or the path.'),
});
export type Problem = z.output<typeof Problem>;
