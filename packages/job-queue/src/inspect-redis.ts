import type { Redis } from 'ioredis';
import { connectRedis } from './connect-redis.ts';
import { judgeRedis, type RedisReport } from './judge-redis.ts';
import type { RedisAddress } from './redis-address.ts';
import { redisFailure } from './redis-failure.ts';

/**
 * Looks at how a Redis is set up, and says what is unfit about it (`problems`: do not start) and what is risky (`cautions`).
 * @throws QuaysideError `REDIS_UNREACHABLE` when it does not answer within 5 s.
 */
export async function inspectRedis(address: RedisAddress): Promise<RedisReport> {
  const redis = await connectRedis(address, 5000, { manner: 'fails-fast', log: () => undefined });
  try {
    return judgeRedis(address, { info: await redis.info(), config: await readConfig(redis) });
  } catch (error) {
    throw redisFailure(error, address);
  } finally {
    redis.disconnect();
  }
}

// Null where it is forbidden, as hosted servers do. Each of the replies is name and value in turn.
async function readConfig(redis: Redis): Promise<ReadonlyMap<string, string> | null> {
  try {
    const config = new Map<string, string>();
    for (const name of ['maxmemory-policy', 'appendonly', 'save']) {
      const reply = await redis.config('GET', name);
      if (Array.isArray(reply)) config.set(name, reply[1] ?? '');
    }
    return config;
  } catch (error) {
    if (error instanceof Error && error.name === 'ReplyError') return null;
    throw error;
  }
}
