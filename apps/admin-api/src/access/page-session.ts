import { createHmac, randomBytes } from 'node:crypto';
import type { FastifyRequest } from 'fastify';
import { isSameSecret } from './token.ts';

/** How long a sign-in of the page lasts. A screen on a wall is then signed in again, once a month. */
export const SESSION_SECONDS = 30 * 24 * 60 * 60;

/** The header in which the page sends its key. */
const KEY_HEADER = 'quayside-page-key';
const COOKIE = 'quayside-session';

/**
 * A sign-in of the page: two secrets made from the token, of which neither opens anything alone. The cookie is out of reach of
 * scripts; the key is out of reach of other servers of this machine, to which a browser sends our cookie (cookies know no ports).
 */
export interface PageSession {
  readonly cookie: string;
  readonly key: string;
  readonly untilMs: number;
}

/**
 * Makes a sign-in that lasts from now on, also over restarts of the service, until the token is replaced or revoked. `tokenId`
 * says which one; empty for the service's own.
 */
export function openPageSession(token: string, nowMs: number, tokenId = ''): PageSession {
  const untilMs = nowMs + SESSION_SECONDS * 1000;
  const name = `${untilMs}.${tokenId}${randomBytes(16).toString('base64url')}`;
  return { cookie: `${name}.${mark(token, 'cookie', name)}`, key: mark(token, 'key', name), untilMs };
}

/** Whether a request carries both secrets of one sign-in that has not ended. */
export function hasPageSession({ headers }: FastifyRequest, token: string, nowMs: number): boolean {
  const [, name = '', until = '', cookieMark = ''] = COOKIE_FORM.exec(headers.cookie ?? '') ?? [];
  const key = headers[KEY_HEADER];
  if (name === '' || typeof key !== 'string') return false;
  const isGenuine =
    isSameSecret(cookieMark, mark(token, 'cookie', name)) && isSameSecret(key, mark(token, 'key', name));
  return isGenuine && Number(until) > nowMs;
}

/** The id of the token that the sign-in of a request was made by, empty for the service's own; null without a sign-in. */
export function tokenOfSession({ headers }: Pick<FastifyRequest, 'headers'>): string | null {
  const [, name] = COOKIE_FORM.exec(headers.cookie ?? '') ?? [];
  // What is random takes 22 letters, and an id before it 8.
  return name === undefined ? null : (name.split('.')[1] ?? '').slice(0, -22);
}

/** The header that puts the cookie into the browser; without a session the one that takes it out. */
export function sessionCookie(session: PageSession | null): string {
  const age = session === null ? 0 : SESSION_SECONDS;
  return `${COOKIE}=${session?.cookie ?? ''}; Path=/v1; HttpOnly; SameSite=Strict; Max-Age=${age}`;
}

const COOKIE_FORM = new RegExp(String.raw`(?:^|; )${COOKIE}=((\d{1,16})\.[\w-]{1,64})\.([\w-]{1,64})(?:;|$)`);

function mark(token: string, use: 'cookie' | 'key', name: string): string {
  return createHmac('sha256', token).update(`quayside page ${use} ${name}`).digest('base64url');
}
