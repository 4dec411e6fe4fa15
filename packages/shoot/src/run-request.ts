import { z } from 'zod';

/**
 * One execution of one step on one subject with given inputs. `id` is made of exactly those, so asking for the same run
 * twice is asking once; a retry raises `attempt` in the inputs and so is another run.
 */
export const RunRequest = z.object({
  id: z.string().regex(/^[a-z0-9-]+$/),
  step: z.string(),
  /** The roll that the run is about; the volume for `intake`, the shoot for a step over all its rolls. */
  subject: z.string(),
  inputs: z.record(z.string(), z.json()),
});
export type RunRequest = z.output<typeof RunRequest>;
