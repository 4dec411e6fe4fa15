import { createClient } from '@quayside/api-client';
import type { Service } from './call-service.ts';

/** Where the page keeps the key of its sign-in. The token itself is never kept. */
const PLACE = 'quayside-page-key';

/** What is answered under an idempotency key is kept for a day; a secret must not be. */
const NOT_KEPT = { idempotencyKey: null };

/** The key of the sign-in of this browser, or null. Without the cookie that goes with it, it opens nothing. */
export function keptKey(): string | null {
  return localStorage.getItem(PLACE);
}

/**
 * Exchanges the token for a sign-in of this browser; the token is forgotten.
 * @throws ProblemError `token-needed` when the token is not the right one.
 */
export async function signIn(token: string): Promise<void> {
  const { key } = await createClient({ address: location.origin, token }).post('/v1/session', NOT_KEPT);
  localStorage.setItem(PLACE, key);
}

/** Ends the sign-in of this browser, also when the service cannot be told. */
export async function signOut(service: Service): Promise<void> {
  try {
    await service.ask('delete', '/v1/session', NOT_KEPT);
  } finally {
    localStorage.removeItem(PLACE);
  }
}
