import type { RedisAddress } from './redis-address.ts';
import type { RunRules } from './run-rules.ts';
import type { ThinnedLog } from './thinned-log.ts';

/** What BullMQ calls the queue unless another name is given; its keys hold the name after the prefix. */
export const QUEUE_NAME = 'runs';

/** Where a queue lies and how its runs are treated: the same for the queue and its workers. */
export interface QueuePlace {
  readonly address: RedisAddress;
  readonly prefix: string;
  readonly name: string;
  readonly connectWithinMs: number;
  readonly rules: RunRules;
  readonly log: ThinnedLog;
}
