import { createHash } from 'node:crypto';
import { type Finding, matterOf } from '@quayside/shoot';

/** The id by which a finding is acknowledged: made of its matter alone. */
export function findingIdOf(finding: Pick<Finding, 'code' | 'subject'>): string {
  return createHash('sha256').update(matterOf(finding)).digest('hex').slice(0, 16);
}
