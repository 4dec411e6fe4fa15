import { z } from 'zod';
import { serviceOfPage, type Service } from './call-service.ts';

const Session = z.object({ key: z.string(), until: z.string() });

/** Where the page keeps the key of its sign-in. The token itself is never kept. */
const PLACE = 'quayside-page-key';

/** The key of the sign-in of this browser, or null. Without the cookie that goes with it, it opens nothing. */
export function keptKey(): string | null {
  return localStorage.getItem(PLACE);
}

/**
 * Exchanges the token for a sign-in of this browser; the token is forgotten.
 * @throws ServiceTrouble `signed-out` when the token is not the right one.
 */
export async function signIn(token: string): Promise<void> {
  const answer = await serviceOfPage(() => null).ask('/v1/session', Session, {
    method: 'POST',
    headers: { authorization: `Bearer ${token}` },
  });
  localStorage.setItem(PLACE, answer.body.key);
}

/** Ends the sign-in of this browser, also when the service cannot be told. */
export async function signOut(service: Service): Promise<void> {
  try {
    await service.ask('/v1/session', z.object({ signedIn: z.literal(false) }), { method: 'DELETE' });
  } finally {
    localStorage.removeItem(PLACE);
  }
}
