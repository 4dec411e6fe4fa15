import { mkdir, readdir, readFile, rename, rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { QuaysideError } from '@quayside/shoot';
import { createConnection, untilReady } from './connect-redis.ts';
import type { RedisPlaces } from './redis-places.ts';
import { type ServerEnd, type ServerProcess, startServer } from './redis-server.ts';
import type { Log } from './thinned-log.ts';

const ANSWER_WITHIN_MS = 15_000;
const LOG_BYTES = 1_000_000;

/**
 * Starts the server and waits until it answers. When it ends instead, and starts well without its data, then the data were
 * what it could not bear: they stay aside under another name. When it ends without them as well, they are put back.
 */
export async function startAnsweringServer(places: RedisPlaces, log: Log): Promise<ServerProcess> {
  await turnLogOver(places);
  const first = await tryToStart(places);
  if (first.kind === 'answers') return first.server;
  const failure = await didNotStart(places, first.end);
  const hasData = (await readdir(places.data)).length > 0;
  if (!hasData || !isItsOwnDoing(first.end)) throw failure;

  const aside = join(places.folder, `redis-damaged-${new Date().toISOString().replaceAll(/[:.]/g, '-')}`);
  await rename(places.data, aside);
  await mkdir(places.data, { mode: 0o700 });
  const second = await tryToStart(places);
  if (second.kind === 'ended') {
    await rm(places.data, { recursive: true });
    await rename(aside, places.data);
    throw failure;
  }
  log(
    `${failure.message} It starts without its data, which were moved to ${aside} and may be deleted there: the view is built anew.`,
  );
  return second.server;
}

type Start =
  | { readonly kind: 'answers'; readonly server: ServerProcess }
  | { readonly kind: 'ended'; readonly end: ServerEnd };

async function tryToStart(places: RedisPlaces): Promise<Start> {
  const server = await startServer(places);
  const overdue = new AbortController();
  const redis = createConnection(
    { kind: 'socket', path: places.socket },
    { manner: 'fails-fast', log: () => undefined },
  );
  try {
    const outcome = await Promise.race([
      untilReady(redis).then((): Start => ({ kind: 'answers', server })),
      server.ended.then((end): Start => ({ kind: 'ended', end })),
      pause(ANSWER_WITHIN_MS, null, { signal: overdue.signal }),
    ]);
    if (outcome !== null) return outcome;
    await server.end();
    throw await didNotStart(places, null);
  } finally {
    overdue.abort();
    redis.disconnect();
  }
}

// A signal from outside (somebody stops it, the system is out of memory) says nothing about the data.
function isItsOwnDoing({ signal }: ServerEnd): boolean {
  return signal === null || ['SIGSEGV', 'SIGABRT', 'SIGBUS', 'SIGFPE', 'SIGILL'].includes(signal);
}

async function didNotStart({ logFile }: RedisPlaces, end: ServerEnd | null): Promise<QuaysideError> {
  const what =
    end === null
      ? `did not answer within ${ANSWER_WITHIN_MS / 1000} s`
      : `ended at its start (${end.signal ?? `code ${end.code}`})`;
  const text = await readFile(logFile, 'utf8').catch(() => '');
  const lastWord = text.trimEnd().split('\n').at(-1)?.trim() ?? '';
  return new QuaysideError({
    code: 'REDIS_DID_NOT_START',
    sentence: `Redis ${what}; the last it said was "${lastWord.slice(0, 300)}". See ${logFile}.`,
    retry: 'later',
  });
}

async function turnLogOver({ logFile }: RedisPlaces): Promise<void> {
  const size = await stat(logFile).then(
    (found) => found.size,
    () => 0,
  );
  if (size > LOG_BYTES) await rename(logFile, `${logFile}.old`);
}
