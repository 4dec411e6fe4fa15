import { createHash } from 'node:crypto';
import { chmod, lstat, mkdir } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { QuaysideError } from '@quayside/shoot';

/** Where a supervised Redis keeps what, all below the service's data folder but for a socket whose path would be too long. */
export interface RedisPlaces {
  readonly folder: string;
  readonly data: string;
  readonly socket: string;
  readonly pidFile: string;
  readonly logFile: string;
  readonly lockFile: string;
}

/** Makes the folders, for this user only, and names the places in them. */
export async function prepareRedisPlaces(dataFolder: string, runtimeFolder = tmpdir()): Promise<RedisPlaces> {
  const folder = resolve(dataFolder);
  const data = join(folder, 'redis');
  await mkdir(data, { recursive: true, mode: 0o700 });
  await chmod(data, 0o700);
  return {
    folder,
    data,
    socket: await socketPath(folder, runtimeFolder),
    pidFile: join(folder, 'redis.pid'),
    logFile: join(folder, 'redis.log'),
    lockFile: join(folder, 'redis.lock'),
  };
}

// unix(7): sun_path takes 108 bytes on Linux, 104 on macOS, the closing zero included.
const LONGEST_SOCKET_PATH = 100;

async function socketPath(folder: string, runtimeFolder: string): Promise<string> {
  const path = join(folder, 'redis.sock');
  if (Buffer.byteLength(path) <= LONGEST_SOCKET_PATH) return path;
  const name = createHash('sha256').update(folder).digest('hex').slice(0, 16);
  const short = join(runtimeFolder, `quayside-${name}`);
  await mkdir(short, { recursive: true, mode: 0o700 });
  await throwIfNotOurs(short);
  return join(short, 'redis.sock');
}

// A shared folder such as /tmp lets another user put a folder or a link there first.
async function throwIfNotOurs(path: string): Promise<void> {
  const found = await lstat(path);
  if (found.isDirectory() && found.uid === process.getuid?.() && (found.mode & 0o077) === 0) return;
  throw new QuaysideError({
    code: 'REDIS_FOLDER_UNSAFE',
    sentence: `${path} is not a folder that only this user may enter, so Redis' socket cannot lie there. Remove it, or choose a data folder with a shorter path.`,
    retry: 'never',
  });
}
