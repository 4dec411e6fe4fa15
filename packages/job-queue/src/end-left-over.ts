import { execFile } from 'node:child_process';
import { readFile, rm } from 'node:fs/promises';
import { setTimeout as pause } from 'node:timers/promises';
import { promisify } from 'node:util';
import type { RedisPlaces } from './redis-places.ts';
import type { Log } from './thinned-log.ts';

const POLITE_MS = 5000;
const KILL_MS = 5000;

/**
 * Ends the server that a killed service left behind on this folder, so that the new one is a child of ours whose end we
 * see. Redis syncs its append-only file when asked to end, so nothing is lost. Call it only while holding the folder: it
 * is what proves that no living service owns that server.
 */
export async function endLeftOver(places: RedisPlaces, log: Log): Promise<void> {
  const pid = await leftOverPid(places);
  if (pid === null) return;
  log(
    `A Redis server (process ${pid}) was left over from a service that ended suddenly. It is replaced; its data stay.`,
  );
  signal(pid, 'SIGTERM');
  if (!(await isGone(pid, POLITE_MS))) signal(pid, 'SIGKILL');
  await isGone(pid, KILL_MS);
  await rm(places.pidFile, { force: true });
}

async function leftOverPid(places: RedisPlaces): Promise<number | null> {
  const text = await readFile(places.pidFile, 'utf8').catch(() => '');
  const pid = Number.parseInt(text, 10);
  if (!Number.isInteger(pid) || pid <= 1) return null;
  // Process numbers come back: it is our server only if it says that it serves our socket.
  const line = await commandLine(pid);
  return /(?:redis|valkey)-server/.test(line) && line.includes(places.socket) ? pid : null;
}

async function commandLine(pid: number): Promise<string> {
  if (process.platform === 'linux') return readFile(`/proc/${pid}/cmdline`, 'utf8').catch(() => '');
  const { stdout } = await promisify(execFile)('ps', ['-ww', '-o', 'args=', '-p', String(pid)]).catch(() => ({
    stdout: '',
  }));
  return stdout;
}

async function isGone(pid: number, withinMs: number): Promise<boolean> {
  const end = performance.now() + withinMs;
  while (performance.now() < end) {
    if (!signal(pid, 0) || (await commandLine(pid)) === '') return true;
    await pause(20);
  }
  return false;
}

function signal(pid: number, name: NodeJS.Signals | 0): boolean {
  try {
    return process.kill(pid, name);
  } catch {
    return false;
  }
}
