import { join } from 'node:path';

/** The folder of a shoot's records below a destination's root. */
export function recordsFolder(root: string, shootId: string): string {
  return join(root, shootId, 'records');
}
