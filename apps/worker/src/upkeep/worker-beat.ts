import { hostname } from 'node:os';

/** What a worker's sign of life says: which process on which host. */
export function workerBeat(): string {
  return `${hostname()} ${process.pid}`;
}

/**
 * Whether the last sign of life stands for a worker that may still hold work. One of this host is asked for by its process
 * id, so that a worker that was killed is not waited for until its sign fades.
 */
export function isOtherWorkerAlive(beat: string | undefined): boolean {
  if (beat === undefined) return false;
  const [host, pid] = beat.split(' ');
  if (host !== hostname()) return true;
  if (Number(pid) === process.pid) return false;
  try {
    process.kill(Number(pid), 0);
    return true;
  } catch {
    return false;
  }
}
