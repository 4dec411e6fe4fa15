import type { GuestTrouble } from '../channel/message-from-guest.ts';

/** What went wrong, from whatever a plugin threw. A `StepFailure` is known by its name, since it may be of another copy of the SDK. */
export function troubleOf(error: unknown): GuestTrouble {
  const code: unknown = memberOf(error, 'code');
  if (memberOf(error, 'name') === 'StepFailure' && typeof code === 'string' && /^[A-Z][A-Z0-9_]{0,63}$/.test(code)) {
    const retry = memberOf(error, 'retry') === 'never' ? 'never' : 'later';
    return { kind: 'own', code, text: messageOf(error), retry };
  }
  if (code === 'ERR_ACCESS_DENIED' || code === 'ERR_DLOPEN_DISABLED')
    return { kind: 'denied', code: null, text: deniedText(error), retry: 'never' };
  // The system's limit for the size of a file (setrlimit(2), RLIMIT_FSIZE).
  if (code === 'EFBIG') return { kind: 'too-large', code: null, text: textOf(error), retry: 'never' };
  return { kind: 'threw', code: null, text: textOf(error), retry: 'later' };
}

/** An error with the place in the plugin that it comes from, within the length that the host takes. */
export function textOf(error: unknown): string {
  const stack: unknown = memberOf(error, 'stack');
  const [, place] = /\n\s+at (?:.*\()?((?:file:|\/)[^)\n]+)/.exec(typeof stack === 'string' ? stack : '') ?? [];
  return cut(place === undefined ? messageOf(error) : `${messageOf(error)} (${place})`);
}

function deniedText(error: unknown): string {
  const permission: unknown = memberOf(error, 'permission');
  const resource: unknown = memberOf(error, 'resource');
  const what = typeof permission === 'string' ? (DENIED[permission] ?? permission) : 'load compiled code';
  return cut(typeof resource === 'string' && resource !== '' ? `${what} ${resource}` : what);
}

const DENIED: Readonly<Record<string, string>> = {
  FileSystemRead: 'read',
  FileSystemWrite: 'write',
  ChildProcess: 'start a program:',
  WorkerThreads: 'start a worker thread',
  WASI: 'use WASI',
  Inspector: 'open an inspector',
};

function messageOf(error: unknown): string {
  const message: unknown = memberOf(error, 'message');
  if (typeof message === 'string' && message !== '') return cut(message);
  try {
    return cut(String(error));
  } catch {
    return 'something that cannot be told';
  }
}

function memberOf(error: unknown, name: string): unknown {
  try {
    return typeof error === 'object' && error !== null ? Reflect.get(error, name) : undefined;
  } catch {
    return undefined;
  }
}

const cut = (text: string): string => text.slice(0, 2000);
