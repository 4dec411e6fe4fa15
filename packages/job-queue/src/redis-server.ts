import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { open } from 'node:fs/promises';
import { QuaysideError } from '@quayside/shoot';
import type { RedisPlaces } from './redis-places.ts';

/** A server process that was started; it need not answer yet. */
export interface ServerProcess {
  readonly pid: number;
  readonly ended: Promise<ServerEnd>;
  /** Asks it to end, which syncs its data, and kills it when that takes more than 10 seconds. May be called again. */
  end(): Promise<void>;
}

export interface ServerEnd {
  readonly code: number | null;
  readonly signal: NodeJS.Signals | null;
}

const END_WITHIN_MS = 10_000;

/**
 * Starts `redis-server`, or `valkey-server` where there is no Redis, on the private socket.
 * @throws QuaysideError `REDIS_MISSING` with the command that installs it.
 */
export async function startServer(places: RedisPlaces): Promise<ServerProcess> {
  // What is wrong with its settings it says on standard error, before it opens its log.
  await using log = await open(places.logFile, 'a', 0o600);
  for (const program of ['redis-server', 'valkey-server']) {
    const child = spawn(program, settings(places), {
      cwd: places.data,
      stdio: ['ignore', 'ignore', log.fd],
      // A group of its own: Ctrl-C in a terminal must reach the service, which still needs Redis to put its work away.
      detached: true,
    });
    const pid = await startedPid(child);
    if (pid !== null) return track(child, pid);
  }
  throw new QuaysideError({
    code: 'REDIS_MISSING',
    sentence:
      'No redis-server or valkey-server was found on PATH. Install one ("sudo apt-get install redis-server" on Debian and its kin, "brew install redis" with Homebrew), or set redis.url to a Redis that runs already.',
    retry: 'never',
  });
}

function settings({ data, socket, pidFile, logFile }: RedisPlaces): string[] {
  // Only directives that Redis 6.2 and Valkey know as well: an unknown one keeps a server from starting.
  const directives: readonly (readonly [string, string])[] = [
    ['port', '0'],
    ['unixsocket', socket],
    ['unixsocketperm', '700'],
    ['daemonize', 'no'],
    ['dir', data],
    ['pidfile', pidFile],
    ['logfile', logFile],
    ['appendonly', 'yes'],
    ['appendfsync', 'everysec'],
    ['save', ''],
    ['maxmemory-policy', 'noeviction'],
    // For an idle service: one database, few clients, and an append-only file that is rewritten early.
    ['databases', '1'],
    ['maxclients', '256'],
    ['auto-aof-rewrite-min-size', '16mb'],
    ['slowlog-max-len', '16'],
    // Housekeeping twice a second: the default of ten times is half of what an idle Redis uses.
    ['hz', '2'],
  ];
  return directives.flatMap(([name, value]) => [`--${name}`, value]);
}

async function startedPid(child: ChildProcess): Promise<number | null> {
  try {
    await once(child, 'spawn');
    return child.pid ?? null;
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return null;
    throw error;
  }
}

function track(child: ChildProcess, pid: number): ServerProcess {
  const ended = new Promise<ServerEnd>((resolve) => child.once('exit', (code, signal) => resolve({ code, signal })));
  // When this process ends without stopping it, by an uncaught error say, Redis ends too.
  const endWithUs = (): void => void child.kill('SIGTERM');
  process.once('exit', endWithUs);
  void ended.then(() => process.removeListener('exit', endWithUs));
  return {
    pid,
    ended,
    async end() {
      child.kill('SIGTERM');
      const overdue = setTimeout(() => child.kill('SIGKILL'), END_WITHIN_MS);
      await ended;
      clearTimeout(overdue);
    },
  };
}
