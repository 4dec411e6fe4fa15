import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { PAGE_FOLDER } from '@quayside/board';
import type { FoundConfiguration } from '../config.ts';
import { holdDataFolder } from './hold-data-folder.ts';
import { type Charge, type KeptProcess, keepRunning, type Reports } from './keep-running.ts';
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
 * Starts the whole service: claims the data folder, then starts Redis and, beside it, watcher, worker and API, which load
 * their code while Redis gets ready and are kept running.
 * @throws QuaysideError, with nothing left running, when the folder, the port or Redis cannot be used.
 */
export async function startService(
  { file, configuration }: FoundConfiguration,
  reports: Reports,
): Promise<RunningService> {
  const hold = await holdDataFolder(configuration.data);
  const { promise: address, resolve: tellAddress } = Promise.withResolvers<string>();
  let kept: readonly KeptProcess[] = [];
  const kill = (): void => {
    for (const one of kept) one.kill();
  };
  try {
    if (configuration.api.port !== 0) await throwIfPortTaken(configuration.api.port);
    const hasGuests = configuration.plugins.some(({ isOn }) => isOn);
    kept = charges({ file, data: configuration.data, redis: address, hasGuests }).map((charge) =>
      keepRunning(charge, reports),
    );
    // Not loaded before here: the processes are under way meanwhile.
    const { openRedis } = await import('./open-redis.ts');
    const redis = await openRedis(configuration, reports.say);
    tellAddress(redis.address);
    return {
      cautions: redis.cautions,
      ready: Promise.all(kept.map(({ ready }) => ready)).then(() => undefined),
      pids: () => Object.fromEntries(kept.map((one) => [one.name, one.pid()])),
      async stop() {
        await stopInOrder(kept);
        await redis.stop();
        hold.release();
      },
      kill,
    };
  } catch (error) {
    kill();
    hold.release();
    throw error;
  }
}

async function stopInOrder(kept: readonly KeptProcess[]): Promise<void> {
  for (const one of kept) await one.stop();
}

interface Wanted {
  readonly file: string;
  readonly data: string;
  readonly redis: Promise<string>;
  /** Whether there are plugins to run. */
  readonly hasGuests: boolean;
}

function charges({ file, data, redis, hasGuests }: Wanted): Charge[] {
  const common = {
    args: ['--config', file],
    // Ours are not enough: `bin/quayside.mjs` has set the condition by other means.
    execArgv: [...new Set([...process.execArgv, '--conditions=source', YOUNG_SPACE, '--expose-gc'])],
    // Kept code and stripped types: the next start takes a third of the time and memory of the first.
    // More threads than usual: calls that hang on a dead drive each hold one.
    env: { UV_THREADPOOL_SIZE: '16', ...process.env, NODE_COMPILE_CACHE: join(data, 'compile-cache') },
    redis,
  };
  return [
    {
      ...common,
      name: 'watcher',
      module: fileURLToPath(import.meta.resolve('@quayside/watcher/main')),
      graceMs: 5_000,
    },
    { ...common, name: 'worker', module: fileURLToPath(import.meta.resolve('@quayside/worker/main')), graceMs: 20_000 },
    // A process of its own, so that no plugin can delay the work or an answer.
    ...(hasGuests
      ? [
          {
            ...common,
            name: 'guests',
            module: fileURLToPath(import.meta.resolve('@quayside/guests/main')),
            graceMs: 10_000,
          },
        ]
      : []),
    {
      ...common,
      name: 'API',
      module: fileURLToPath(import.meta.resolve('@quayside/admin-api/main')),
      env: { ...common.env, QUAYSIDE_PAGE: PAGE_FOLDER },
      graceMs: 5_000,
    },
  ];
}

// Megabytes for objects that are young. The default of 16 took 90 MB more over the three processes, idle, and bought
// nothing: what they hold for long is little, and footage passes through memory of its own.
const YOUNG_SPACE = '--max-semi-space-size=1';
