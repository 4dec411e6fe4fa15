import { QuaysideError } from '@quayside/shoot';
import { describeAddress, type RedisAddress } from './redis-address.ts';

/** The failure for a Redis that does not answer: `REDIS_UNREACHABLE`, worth another try later. */
export function unreachable(address: RedisAddress, why: string, cause?: unknown): QuaysideError {
  return new QuaysideError(
    {
      code: 'REDIS_UNREACHABLE',
      sentence: `Redis at ${describeAddress(address)} does not answer: ${why}. See that it runs and that redis.url names it; the service tries again by itself.`,
      retry: 'later',
    },
    { cause },
  );
}

/**
 * What a failed Redis command means: `REDIS_REFUSED` when Redis answered but would not do it (its disk or memory is full,
 * or the rights are missing), else `REDIS_UNREACHABLE`. Use it around Redis calls only, never around a caller's function.
 */
export function redisFailure(error: unknown, address: RedisAddress): QuaysideError {
  if (error instanceof QuaysideError) return error;
  const text = error instanceof Error ? error.message : String(error);
  const isRefusal = error instanceof Error && error.name === 'ReplyError' && !/^(?:LOADING|MASTERDOWN)\b/.test(text);
  if (!isRefusal) return unreachable(address, whyIn(text), error);
  return new QuaysideError(
    {
      code: 'REDIS_REFUSED',
      sentence: `Redis at ${describeAddress(address)} refused a command: ${text}. ${remedyFor(text)}`,
      retry: 'later',
    },
    { cause: error },
  );
}

function whyIn(text: string): string {
  if (text.includes("Stream isn't writeable")) return 'there is no connection to it at the moment';
  if (text.startsWith('Reached the max retries')) return 'the connection was lost';
  return text.replace(/\.$/, '');
}

function remedyFor(text: string): string {
  if (text.startsWith('MISCONF'))
    return 'Make room on the disk that holds its data; the service tries again by itself.';
  if (text.startsWith('OOM')) return 'Raise its maxmemory; the service tries again by itself.';
  return 'Give the service a Redis of its own, or a user that may run every command on its keys.';
}
