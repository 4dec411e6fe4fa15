import type { Instant } from '@quayside/shoot';
import { z } from 'zod';
import { TokenRecord } from '../access/token-file.ts';

/** A token that was made, without the token. */
export const TokenAnswer = TokenRecord.omit({ hash: true }).extend({
  state: z.enum(['good', 'expired', 'revoked']),
});
export type TokenAnswer = z.output<typeof TokenAnswer>;

/** A token as it stands at a moment. */
export function describeToken({ hash: _hash, ...record }: TokenRecord, now: Instant): TokenAnswer {
  if (record.revokedAt !== null) return { ...record, state: 'revoked' };
  return { ...record, state: record.expiresAt !== null && record.expiresAt <= now ? 'expired' : 'good' };
}
