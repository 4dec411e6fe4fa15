import { keepAnswers } from './answers-in-redis.ts';
import { keepBeats } from './beats-in-redis.ts';
import { connectRedis } from './connect-redis.ts';
import { keepEvents } from './events-in-redis.ts';
import { keepFiles } from './files-in-redis.ts';
import { keepSleep } from './put-to-sleep.ts';
import { keepGuestRuns } from './guest-runs-in-redis.ts';
import type { RedisAddress } from './redis-address.ts';
import { keepRolls } from './rolls-in-redis.ts';
import { keepShoots } from './shoots-in-redis.ts';
import { keepStepTimes } from './step-times-in-redis.ts';
import type { Store } from './store.ts';
import { type Log, thinnedLog } from './thinned-log.ts';
import { packJson } from './packed-json.ts';
import { Rebuild } from './rebuild.ts';
import { ask, parseRow, type View } from './view.ts';
import { keepVolumes } from './volumes-in-redis.ts';
import { keepWishes } from './wishes-in-redis.ts';

export interface StoreOptions {
  /** What all its keys start with; `quayside` by default. Two services on one Redis want two. */
  readonly prefix?: string;
  /** How long Redis may take to answer at first; 5000 by default. */
  readonly connectWithinMs?: number;
  /** Told of trouble, thinned out to one line a minute for each kind. */
  readonly log?: Log;
}

/**
 * Opens the fast view. The caller closes it.
 * @throws QuaysideError `REDIS_UNREACHABLE` when Redis does not answer in time; never hangs.
 */
export async function openStore(address: RedisAddress, options: StoreOptions = {}): Promise<Store> {
  const { prefix = 'quayside', connectWithinMs = 5000 } = options;
  const log = thinnedLog(options.log);
  const redis = await connectRedis(address, connectWithinMs, { manner: 'fails-fast', log });
  const view: View = { redis, address, log, key: (...parts) => [prefix, ...parts].join(':') };
  return {
    ...keepRolls(view),
    ...keepSleep(view),
    ...keepFiles(view),
    ...keepVolumes(view),
    ...keepShoots(view),
    ...keepGuestRuns(view),
    ...keepAnswers(view),
    ...keepBeats(view),
    ...keepWishes(view),
    ...keepStepTimes(view),
    ...keepEvents(view),
    ...keepWholeness(view),
    ...keepRebuild(view),
    async ping() {
      await ask(view, () => redis.ping());
    },
    async close() {
      redis.disconnect();
    },
  };
}

function keepWholeness(view: View): Pick<Store, 'isWhole' | 'markWhole'> {
  return {
    isWhole: async () => (await ask(view, (redis) => redis.exists(view.key('whole')))) === 1,
    async markWhole() {
      await ask(view, (redis) => redis.set(view.key('whole'), '1'));
    },
  };
}

function keepRebuild(view: View): Pick<Store, 'rebuild' | 'saveRebuild'> {
  const key = view.key('rebuild');
  return {
    rebuild: async () => parseRow(view, Rebuild, { key, text: await ask(view, (redis) => redis.getBuffer(key)) }),
    async saveRebuild(rebuild) {
      await ask(view, (redis) => redis.set(key, packJson(rebuild)));
    },
  };
}
