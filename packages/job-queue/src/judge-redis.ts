import type { Failure } from '@quayside/shoot';
import { describeAddress, type RedisAddress } from './redis-address.ts';

export interface RedisReport {
  readonly version: string;
  readonly persistence: 'aof' | 'rdb' | 'none';
  readonly evictionPolicy: string;
  /** Reasons not to use this Redis. */
  readonly problems: readonly Failure[];
  /** Risks that the operator should know of. */
  readonly cautions: readonly Failure[];
}

/** What a Redis told of itself: the text of `INFO`, and of its configuration what could be read (null: forbidden). */
export interface RedisFacts {
  readonly info: string;
  readonly config: ReadonlyMap<string, string> | null;
}

/** Judges a Redis by what it told of itself. Pure. */
export function judgeRedis(address: RedisAddress, facts: RedisFacts): RedisReport {
  const info = fieldsOf(facts.info);
  const where = `Redis at ${describeAddress(address)}`;
  const version = info.get('redis_version') ?? 'unknown';
  const evictionPolicy = facts.config?.get('maxmemory-policy') ?? info.get('maxmemory_policy') ?? 'unknown';
  const persistence = persistenceOf(facts, info);
  const problems: Failure[] = [];
  const cautions: Failure[] = [];
  if (isOlder(version, [6, 2])) problems.push(tooOld(where, version));
  if (evictionPolicy !== 'noeviction' && evictionPolicy !== 'unknown') problems.push(evicts(where, evictionPolicy));
  if (persistence === 'none' && facts.config !== null) cautions.push(notPersistent(where));
  if (facts.config === null) cautions.push(hidesItsConfig(where, persistence));
  return { version, persistence, evictionPolicy, problems, cautions };
}

function fieldsOf(info: string): ReadonlyMap<string, string> {
  return new Map(
    info.split(/\r?\n/).flatMap((line): [string, string][] => {
      const colon = line.indexOf(':');
      return colon > 0 ? [[line.slice(0, colon), line.slice(colon + 1).trim()]] : [];
    }),
  );
}

function persistenceOf({ config }: RedisFacts, info: ReadonlyMap<string, string>): RedisReport['persistence'] {
  if ((config?.get('appendonly') ?? (info.get('aof_enabled') === '1' ? 'yes' : 'no')) === 'yes') return 'aof';
  return (config?.get('save') ?? '') === '' ? 'none' : 'rdb';
}

function isOlder(version: string, [major, minor]: readonly [number, number]): boolean {
  const parts = /^(\d+)\.(\d+)/.exec(version);
  if (parts === null) return false;
  const [itsMajor, itsMinor] = [Number(parts[1]), Number(parts[2])];
  return itsMajor < major || (itsMajor === major && itsMinor < minor);
}

function tooOld(where: string, version: string): Failure {
  return {
    code: 'REDIS_TOO_OLD',
    sentence: `${where} is version ${version}, and 6.2 is the oldest that works. Update it, or leave redis.url out so that the service starts its own.`,
    retry: 'never',
  };
}

function evicts(where: string, policy: string): Failure {
  return {
    code: 'REDIS_EVICTS',
    sentence: `${where} may drop keys when its memory is full (maxmemory-policy ${policy}), so work would vanish without a word. Set maxmemory-policy to noeviction.`,
    retry: 'never',
  };
}

function notPersistent(where: string): Failure {
  return {
    code: 'REDIS_NOT_PERSISTENT',
    sentence: `${where} keeps nothing on disk, so after its restart the view is built anew from the destinations. Set appendonly to yes to spare that.`,
    retry: 'never',
  };
}

function hidesItsConfig(where: string, persistence: RedisReport['persistence']): Failure {
  const unknown = persistence === 'aof' ? 'its full configuration' : 'whether it keeps its data on disk';
  return {
    code: 'REDIS_CONFIG_HIDDEN',
    sentence: `${where} does not let its configuration be read, so ${unknown} is not known. See with whoever runs it that maxmemory-policy is noeviction and that its data are persistent.`,
    retry: 'never',
  };
}
