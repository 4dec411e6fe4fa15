import type { Configuration } from '@quayside/configuration';
import { inspectRedis, redisAddressFrom, type RedisChange, superviseRedis } from '@quayside/job-queue';
import { QuaysideError } from '@quayside/shoot';

/** The Redis that the service works with: the configured one, or one of its own that `stop` ends. */
export interface ServiceRedis {
  /** As the other processes take it. It may hold a password: not for a command line or a log. */
  readonly address: string;
  readonly cautions: readonly string[];
  stop(): Promise<void>;
}

/**
 * Finds or starts Redis, and looks whether it may be relied on.
 * @throws QuaysideError `REDIS_…`: missing, unreachable, too old, or set to drop keys.
 */
export async function openRedis(
  { data, redis }: Pick<Configuration, 'data' | 'redis'>,
  say: (sentence: string) => void,
): Promise<ServiceRedis> {
  const own =
    redis.url === undefined
      ? await superviseRedis({ dataFolder: data, log: say, report: (change) => say(sentenceFor(change)) })
      : null;
  const address = own?.address ?? redisAddressFrom(redis.url ?? '');
  const stop = async (): Promise<void> => own?.stop();
  try {
    const { problems, cautions } = await inspectRedis(address);
    const [problem] = problems;
    if (problem !== undefined) throw new QuaysideError(problem);
    return {
      address: address.kind === 'socket' ? address.path : address.url,
      cautions: cautions.map(({ sentence }) => sentence),
      stop,
    };
  } catch (error) {
    await stop();
    throw error;
  }
}

function sentenceFor(change: RedisChange): string {
  switch (change.kind) {
    case 'ended':
      return `Redis ended unexpectedly (${change.code === null ? 'by a signal' : `exit code ${change.code}`}); it is started again.`;
    case 'started':
      return `Redis runs again (process ${change.pid}).`;
    case 'failed':
      return change.failure.sentence;
  }
}
