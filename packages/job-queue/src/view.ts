import type { ChainableCommander, Redis } from 'ioredis';
import type { z } from 'zod';
import { unpackJson } from './packed-json.ts';
import type { RedisAddress } from './redis-address.ts';
import { redisFailure } from './redis-failure.ts';
import type { ThinnedLog } from './thinned-log.ts';

/** What every part of the store works with: one connection, the names of its keys, and where to tell of trouble. */
export interface View {
  readonly redis: Redis;
  readonly address: RedisAddress;
  readonly log: ThinnedLog;
  readonly key: (...parts: readonly (string | number)[]) => string;
}

/** Runs Redis commands, and nothing else, so that whatever they throw arrives as one of our failures. */
export async function ask<Answer>(view: View, commands: (redis: Redis) => Promise<Answer>): Promise<Answer> {
  try {
    return await commands(view.redis);
  } catch (error) {
    throw redisFailure(error, view.address);
  }
}

/** Sends a pipeline or transaction and returns its replies; fails when any of its commands failed. */
export async function sendAll(view: View, commands: ChainableCommander): Promise<readonly unknown[]> {
  const replies = (await ask(view, () => commands.exec())) ?? [];
  return replies.map(([error, reply]) => {
    if (error !== null) throw redisFailure(error, view.address);
    return reply;
  });
}

/**
 * The value in a stored row, or null when there is none or it does not parse. A row that does not parse counts as lost:
 * it is told and skipped, since one bad row must not take the service down.
 */
export function parseRow<Row>(view: View, schema: z.ZodType<Row>, stored: { key: string; text: unknown }): Row | null {
  if (stored.text === null || stored.text === undefined) return null;
  const parsed = schema.safeParse(unpackJson(stored.text));
  if (parsed.success) return parsed.data;
  view.log(
    'row',
    `The view in Redis holds something unreadable under ${stored.key}: ${firstIssue(parsed.error)}. It is passed over.`,
  );
  return null;
}

function firstIssue(error: z.ZodError): string {
  const [issue] = error.issues;
  return `${issue?.path.join('.') ?? ''} ${issue?.message ?? ''}`.trim();
}
