import { Agent, request } from 'node:http';
import { setTimeout as wait } from 'node:timers/promises';

export interface Sending {
  readonly port: number;
  readonly token: string;
  /** Asked for in turn. */
  readonly paths: readonly string[];
  readonly perSecond: number;
}

export interface Sent {
  /** Milliseconds from the moment that a request was due to the end of its answer, by path. */
  readonly latencies: ReadonlyMap<string, readonly number[]>;
  readonly failures: number;
}

/**
 * Sends requests at a steady rate until told to stop, whether or not the ones before were answered, and counts each from the
 * moment that it was due: what waits because the server is slow counts as slow.
 */
export async function sendSteadily({ port, token, paths, perSecond }: Sending, signal: AbortSignal): Promise<Sent> {
  const agent = new Agent({ keepAlive: true, maxSockets: 64 });
  const latencies = new Map(paths.map((path) => [path, [] as number[]]));
  const underWay: Promise<void>[] = [];
  let failures = 0;
  const startedMs = performance.now();
  for (let number = 0; !signal.aborted; number += 1) {
    const dueMs = startedMs + (number * 1000) / perSecond;
    const early = dueMs - performance.now();
    if (early > 1) await wait(early, undefined, { signal }).catch(() => undefined);
    if (signal.aborted) break;
    const path = paths[number % paths.length] ?? '/';
    const answered = ask({ agent, port, path, token })
      .then(() => void latencies.get(path)?.push(performance.now() - dueMs))
      .catch(() => void (failures += 1));
    underWay.push(answered);
  }
  await Promise.all(underWay);
  agent.destroy();
  return { latencies, failures };
}

interface Asked {
  readonly agent: Agent;
  readonly port: number;
  readonly path: string;
  readonly token: string;
}

function ask({ agent, port, path, token }: Asked): Promise<void> {
  return new Promise((resolve, reject) => {
    const asked = request(
      { agent, host: '127.0.0.1', port, path, headers: { authorization: `Bearer ${token}` } },
      (answer) => {
        answer.resume();
        answer.on('end', () =>
          answer.statusCode === 200 ? resolve() : reject(new Error(`${path} answered ${answer.statusCode}`)),
        );
        answer.on('error', reject);
      },
    );
    asked.on('error', reject);
    asked.end();
  });
}
