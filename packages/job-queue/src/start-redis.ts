import { endLeftOver } from './end-left-over.ts';
import { holdRedisFolder } from './hold-redis-folder.ts';
import type { RedisAddress } from './redis-address.ts';
import { prepareRedisPlaces } from './redis-places.ts';
import { startAnsweringServer } from './start-answering-server.ts';
import type { Log } from './thinned-log.ts';

export interface StartRedisOptions {
  /** The service's data folder. Redis' data lie in `redis` below it, its log, lock and socket beside that. */
  readonly dataFolder: string;
  /** Where the socket goes when the data folder's path is too long for one; the system's temporary folder by default. */
  readonly runtimeFolder?: string;
  readonly log: Log;
}

export interface RunningRedis {
  /** The same after each start on this data folder. */
  readonly address: RedisAddress;
  readonly pid: number;
  /** Settles with the exit code when the server ends, in whatever way; with null when a signal ended it. */
  readonly exited: Promise<number | null>;
  /** Ends the server with its data synced, and frees the folder. May be called again. */
  stop(): Promise<void>;
}

/**
 * Starts a Redis of our own on a private Unix socket and waits until it answers, 15 s at most. A server left over from a
 * service that was killed is replaced. Data that Redis cannot read are set aside, told, and it starts empty.
 * @throws QuaysideError `REDIS_MISSING`, `REDIS_FOLDER_IN_USE`, `REDIS_FOLDER_UNSAFE`, `REDIS_DID_NOT_START`.
 */
export async function startRedis({ dataFolder, runtimeFolder, log }: StartRedisOptions): Promise<RunningRedis> {
  const places = await prepareRedisPlaces(dataFolder, runtimeFolder);
  const hold = holdRedisFolder(places);
  try {
    await endLeftOver(places, log);
    const server = await startAnsweringServer(places, log);
    const exited = server.ended.then(({ code }) => {
      hold.release();
      return code;
    });
    return {
      address: { kind: 'socket', path: places.socket },
      pid: server.pid,
      exited,
      async stop() {
        await server.end();
        await exited;
      },
    };
  } catch (error) {
    hold.release();
    throw error;
  }
}
