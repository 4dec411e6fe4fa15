import { z } from 'zod';
import { Instant } from './instant.ts';
import { FolderName } from './recorder.ts';

/** One production day or job; all footage belongs to one. A shoot opens by itself under its date, or by name. */
export const Shoot = z.object({
  id: FolderName,
  name: z.string().min(1).max(200),
  openedAt: Instant,
  closedAt: Instant.nullable(),
  /** True when the operator opened it by name: rolls that arrive go to it until it is closed. */
  named: z.boolean(),
});
export type Shoot = z.output<typeof Shoot>;
