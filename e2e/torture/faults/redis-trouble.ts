import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { runTool } from '../../drives/run-tool.ts';
import type { Scene } from '../scene.ts';
import { type Fault, NOTHING_TO_UNDO } from './fault.ts';

/** kill -9 of Redis; the supervisor starts it again. */
export const redisKilled: Fault = async (scene) => {
  scene.tell('kill -9 of Redis');
  await signalRedis(scene, 'SIGKILL');
  return NOTHING_TO_UNDO;
};

/** Redis is there and does not answer. */
export const redisStopped: Fault = async (scene) => {
  scene.tell('Redis is stopped');
  await signalRedis(scene, 'SIGSTOP');
  return async () => {
    await signalRedis(scene, 'SIGCONT');
    scene.tell('Redis goes on');
  };
};

/** Everything in Redis is gone from one moment to the next. */
export const redisFlushed: Fault = async (scene) => {
  scene.tell('FLUSHALL');
  await askRedis(scene, 'FLUSHALL');
  return NOTHING_TO_UNDO;
};

/** Redis dies, and its files are gone. */
export const redisFilesDeleted: Fault = async (scene) => {
  scene.tell('the files of Redis are deleted, and it is killed');
  const files = join(scene.studio.service.data, 'redis');
  const gone = rm(files, { recursive: true, force: true });
  await Promise.all([gone, signalRedis(scene, 'SIGKILL')]);
  return NOTHING_TO_UNDO;
};

/** Redis answers, and refuses every write. */
export const redisOutOfMemory: Fault = async (scene) => {
  scene.tell('Redis has no memory left');
  await askRedis(scene, 'CONFIG', 'SET', 'maxmemory', '1');
  return async () => {
    await askRedis(scene, 'CONFIG', 'SET', 'maxmemory', '0');
    scene.tell('Redis has memory again');
  };
};

async function signalRedis(scene: Scene, signal: NodeJS.Signals): Promise<void> {
  for (const { pid, name } of await scene.studio.service.processes()) {
    if (name !== 'Redis') continue;
    try {
      process.kill(pid, signal);
    } catch {
      // It has ended meanwhile.
    }
  }
}

/** Redis may be on its way up again after another fault; one that stays away makes the run fail by itself. */
async function askRedis(scene: Scene, ...words: readonly string[]): Promise<void> {
  const socket = join(scene.studio.service.data, 'redis.sock');
  await scene.studio.service.until(
    `Redis takes ${words.join(' ')}`,
    () =>
      runTool('redis-cli', '-e', '-s', socket, ...words).then(
        () => true,
        () => null,
      ),
    20_000,
  );
}
