import { type ChildProcess, execFile, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { Redis } from 'ioredis';
import { onTestFinished } from 'vitest';
import type { RedisAddress } from './redis-address.ts';

/** A real Redis in a folder of its own, independent of `startRedis`, gone when the test is over. */
export interface TestRedis {
  readonly address: RedisAddress;
  /** A bare connection, to look at Redis from outside our own code. Starts anew after each restart. */
  readonly raw: Redis;
  start(): Promise<void>;
  /** Ends it by kill -9. */
  kill(): Promise<void>;
  pause(): void;
  resume(): void;
}

/** A folder of its own for a test. When the test is over, also by its time limit, no server that works in it lives on. */
export async function temporaryFolder(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'quayside-redis-'));
  onTestFinished(async () => {
    for (const pid of await serversIn(folder)) process.kill(pid, 'SIGKILL');
    await rm(folder, { recursive: true, force: true });
  });
  return folder;
}

// The folder's name is unique, so only this test's own servers carry it in their command line. `ps` is not on every Linux.
async function serversIn(folder: string): Promise<number[]> {
  const isOurs = (line: string): boolean => line.includes('redis-server') && line.includes(folder);
  if (process.platform !== 'linux') {
    const { stdout } = await promisify(execFile)('ps', ['-ww', '-eo', 'pid=,args=']);
    return stdout
      .split('\n')
      .filter(isOurs)
      .map((line) => Number.parseInt(line, 10));
  }
  const pids = (await readdir('/proc')).filter((name) => /^\d+$/.test(name));
  const lines = await Promise.all(pids.map((pid) => readFile(`/proc/${pid}/cmdline`, 'utf8').catch(() => '')));
  return pids.filter((_, index) => isOurs(lines[index] ?? '')).map(Number);
}

export async function testRedis(...settings: readonly string[]): Promise<TestRedis> {
  const folder = await temporaryFolder();
  const path = join(folder, 'redis.sock');
  const args = ['--port', '0', '--unixsocket', path, '--dir', folder, '--appendonly', 'yes', '--save', '', ...settings];
  let server: ChildProcess | null = null;
  const raw = new Redis({ path, lazyConnect: true, retryStrategy: () => 20, maxRetriesPerRequest: null });
  raw.on('error', () => undefined);
  const end = async (): Promise<void> => {
    if (server === null || server.exitCode !== null || server.signalCode !== null) return;
    const exited = once(server, 'exit');
    server.kill('SIGCONT');
    server.kill('SIGKILL');
    await exited;
  };
  onTestFinished(async () => {
    raw.disconnect();
    await end();
  });
  const start = async (): Promise<void> => {
    server = spawn('redis-server', args, { stdio: 'ignore' });
    await raw.ping();
  };
  await start();
  return {
    address: { kind: 'socket', path },
    raw,
    start,
    kill: end,
    pause: () => void server?.kill('SIGSTOP'),
    resume: () => void server?.kill('SIGCONT'),
  };
}
