import { notRunning } from '../failures/no-answer-error.ts';
import type { Method } from './typed-calls.ts';
import { type Value, writeAddress } from './write-address.ts';

/** Which service, and as whom. */
export interface ClientSettings {
  /** Such as `http://127.0.0.1:4180`. */
  readonly address: string;
  readonly token?: string;
  /** Further headers, asked for anew for each request. */
  readonly headers?: () => Readonly<Record<string, string>>;
  /** Who asks, for the record of changes. */
  readonly operator?: () => string;
  /** 10,000 when not given. Streams may take as long as they like. */
  readonly answersWithinMs?: number;
}

/** A request whose types were checked where it was written. */
export interface LooseCall {
  readonly path?: Readonly<Record<string, Value>>;
  readonly query?: Readonly<Record<string, Value>>;
  readonly body?: unknown;
  readonly signal?: AbortSignal | undefined;
  readonly idempotencyKey?: string | null;
}

/**
 * Sends one request; its answer may still be a refusal.
 * @throws NoAnswerError `NOT_RUNNING`; the reason of the call's own signal when that has aborted.
 */
export async function sendRequest(
  settings: ClientSettings,
  { method, path, headers }: { readonly method: Method; readonly path: string; readonly headers: Headers },
  call: LooseCall,
): Promise<Response> {
  const target = settings.address + writeAddress(path, call.path, call.query);
  if (settings.token !== undefined) headers.set('authorization', `Bearer ${settings.token}`);
  for (const [name, value] of Object.entries(settings.headers?.() ?? {})) headers.set(name, value);
  if (call.body !== undefined) headers.set('content-type', 'application/json');
  try {
    return await fetch(target, {
      method: method.toUpperCase(),
      headers,
      ...(call.body === undefined ? {} : { body: JSON.stringify(call.body) }),
      ...(call.signal === undefined ? {} : { signal: call.signal }),
      cache: 'no-store',
      redirect: 'error',
    });
  } catch (error) {
    throw notRunning(settings.address, error);
  }
}
