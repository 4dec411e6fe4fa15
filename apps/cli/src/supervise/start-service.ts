import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { FoundConfiguration } from '../config.ts';
import { holdDataFolder } from './hold-data-folder.ts';
import { type Charge, type KeptProcess, keepRunning, type Reports } from './keep-running.ts';
import { openRedis } from './open-redis.ts';
import { throwIfPortTaken } from './throw-if-port-taken.ts';

export interface RunningService {
  readonly cautions: readonly string[];
  /** Settles when all processes have said that they are ready. */
  readonly ready: Promise<void>;
  /** The processes that run now, by name. */
  pids(): Readonly<Record<string, number | null>>;
  /** Ends them in order: no new drives, then the work, then the answers, then Redis. */
  stop(): Promise<void>;
  /** Ends all processes at once. */
  kill(): void;
}

/**
 * Starts the whole service: claims the data folder, opens Redis, and keeps watcher, worker and API running.
 * @throws QuaysideError, with nothing left running, when the folder, the port or Redis cannot be used.
 */
export async function startService(
  { file, configuration }: FoundConfiguration,
  reports: Reports,
): Promise<RunningService> {
  const hold = await holdDataFolder(configuration.data);
  try {
    if (configuration.api.port !== 0) await throwIfPortTaken(configuration.api.port);
    const redis = await openRedis(configuration, reports.say);
    const kept = charges({ file, data: configuration.data, redis: redis.address }).map((charge) =>
      keepRunning(charge, reports),
    );
    return {
      cautions: redis.cautions,
      ready: Promise.all(kept.map(({ ready }) => ready)).then(() => undefined),
      pids: () => Object.fromEntries(kept.map((one) => [one.name, one.pid()])),
      async stop() {
        await stopInOrder(kept);
        await redis.stop();
        hold.release();
      },
      kill() {
        for (const one of kept) one.kill();
      },
    };
  } catch (error) {
    hold.release();
    throw error;
  }
}

async function stopInOrder(kept: readonly KeptProcess[]): Promise<void> {
  for (const one of kept) await one.stop();
}

function charges({ file, data, redis }: { readonly [name in 'file' | 'data' | 'redis']: string }): Charge[] {
  const common = {
    args: ['--config', file],
    // Ours are not enough: `bin/quayside.mjs` has set the condition by other means.
    execArgv: [...new Set([...process.execArgv, '--conditions=source', YOUNG_SPACE])],
    // The address of Redis by the environment, which only this user may read: everybody sees a command line.
    // Kept code and stripped types: the next start takes a third of the time and memory of the first.
    env: { ...process.env, QUAYSIDE_REDIS: redis, NODE_COMPILE_CACHE: join(data, 'compile-cache') },
  };
  return [
    {
      ...common,
      name: 'watcher',
      module: fileURLToPath(import.meta.resolve('@quayside/watcher/main')),
      graceMs: 5_000,
    },
    { ...common, name: 'worker', module: fileURLToPath(import.meta.resolve('@quayside/worker/main')), graceMs: 20_000 },
    { ...common, name: 'API', module: fileURLToPath(import.meta.resolve('@quayside/admin-api/main')), graceMs: 5_000 },
  ];
}

// Megabytes for objects that are young. The default of 16 took 90 MB more over the three processes, idle, and bought
// nothing: what they hold for long is little, and footage passes through memory of its own.
const YOUNG_SPACE = '--max-semi-space-size=1';
