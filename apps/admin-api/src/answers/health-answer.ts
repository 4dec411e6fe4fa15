import { z } from 'zod';

const Process = z.object({ alive: z.boolean(), said: z.string().nullable() });

/** Whether the service does its work. `ok` is false while one of its processes gives no sign of life. */
export const HealthAnswer = z.object({
  ok: z.boolean(),
  version: z.string(),
  redis: z.enum(['reachable', 'away']),
  watcher: Process,
  worker: Process,
  cautions: z.array(z.string()).describe('What is unsafe about the Redis in use, a sentence each.'),
});
export type HealthAnswer = z.output<typeof HealthAnswer>;
