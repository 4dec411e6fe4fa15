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

/** How many rows are remembered, and for how long after the last look. */
const REMEMBERED_ROWS = 64;
const REMEMBERED_MS = 60_000;

/**
 * `parseRow` that gives the same value again while the row's bytes are the same: of what is read often, parsing takes far longer than
 * fetching and comparing. Nobody may change the value.
 */
export function rememberRows<Row>(
  view: View,
  schema: z.ZodType<Row>,
): (key: string, stored: Buffer | null) => Row | null {
  const rows = new Map<string, { readonly bytes: Buffer; readonly row: Row | null }>();
  let forgetting: NodeJS.Timeout | undefined;
  return (key, stored) => {
    if (stored === null) return null;
    clearTimeout(forgetting);
    forgetting = setTimeout(() => rows.clear(), REMEMBERED_MS).unref();
    const known = rows.get(key);
    const found =
      known?.bytes.equals(stored) === true
        ? known
        : { bytes: stored, row: parseRow(view, schema, { key, text: stored }) };
    // Last in the order again; the first is the one that was looked at longest ago.
    rows.delete(key);
    rows.set(key, found);
    const [oldest] = rows.keys();
    if (rows.size > REMEMBERED_ROWS && oldest !== undefined) rows.delete(oldest);
    return found.row;
  };
}

function firstIssue(error: z.ZodError): string {
  const [issue] = error.issues;
  return `${issue?.path.join('.') ?? ''} ${issue?.message ?? ''}`.trim();
}
