import { type ApiClient, createClient } from '@quayside/api-client';

const ANSWERS_WITHIN_MS = 6_000;

/** The service, as the page speaks with it. */
export type Service = ApiClient;

/**
 * The service that served this page, from its own address. `keyNow` gives the key of the sign-in, which goes with the cookie that no script can read;
 * `personNow` who sits before the page, as far as that is known.
 */
export function serviceOfPage(address: string, keyNow: () => string | null, personNow: () => string): Service {
  return createClient({
    address,
    headers() {
      const key = keyNow();
      return key === null ? {} : { 'quayside-page-key': key };
    },
    operator: personNow,
    answersWithinMs: ANSWERS_WITHIN_MS,
  });
}
