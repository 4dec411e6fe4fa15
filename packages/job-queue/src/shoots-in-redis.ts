import { PlanOnRecord, PlanWord } from '@quayside/proxy-planning';
import { Acknowledgement, Failure, type ShootProgress, ShootStep } from '@quayside/shoot';
import { GroupingResult } from '@quayside/sync-grouping';
import { batchesOf } from './batches-of.ts';
import { packJson } from './packed-json.ts';
import { factsKey, readFacts } from './read-files.ts';
import type { Store } from './store.ts';
import { ask, parseRow, rememberRows, sendAll, type View } from './view.ts';
import { wake } from './wake.ts';

type Kept =
  | 'facts'
  | 'saveFacts'
  | 'grouping'
  | 'saveGrouping'
  | 'shootProgress'
  | 'noteShootProgress'
  | 'proxyPlan'
  | 'saveProxyPlan'
  | 'planWord'
  | 'savePlanWord'
  | 'forgetPlanned'
  | 'notePlanning'
  | 'noteProxyFiled'
  | 'noteGuestResults'
  | 'noteShootRenamed'
  | 'noteShootFailure'
  | 'forgetShootFailure'
  | 'acknowledgements'
  | 'acknowledge';

/** Keeps what was found out about footage: the facts of each roll's files, and each shoot's sync groups and what became of them. */
export function keepShoots(view: View): Pick<Store, Kept> {
  const groupings = rememberRows(view, GroupingResult);
  return {
    facts: (rollId) => readFacts(view, rollId),
    async saveFacts(rollId, files) {
      // As JSON: it keeps a lone surrogate (a name that is not valid UTF-8) apart.
      const rows = files.map((file) => [JSON.stringify(file.path), packJson(file)] as const);
      for (const batch of batchesOf(rows, 500)) {
        await sendAll(view, wake(view, view.redis.multi().hset(factsKey(view, rollId), ...batch.flat()), [rollId]));
      }
    },
    async grouping(shootId) {
      const key = view.key('grouping', shootId);
      return groupings(key, await ask(view, (redis) => redis.getBuffer(key)));
    },
    async saveGrouping(shootId, grouping) {
      await ask(view, (redis) => redis.set(view.key('grouping', shootId), packJson(grouping)));
    },
    async proxyPlan(shootId) {
      const key = view.key('proxy-plan', shootId);
      return parseRow(view, PlanOnRecord, { key, text: await ask(view, (redis) => redis.getBuffer(key)) });
    },
    async saveProxyPlan(shootId, plan) {
      await ask(view, (redis) => redis.set(view.key('proxy-plan', shootId), packJson(plan)));
    },
    async planWord(shootId) {
      const key = view.key('plan-word', shootId);
      return parseRow(view, PlanWord, { key, text: await ask(view, (redis) => redis.getBuffer(key)) });
    },
    async savePlanWord(shootId, word) {
      await ask(view, (redis) => redis.set(view.key('plan-word', shootId), packJson(word)));
    },
    async forgetPlanned(shootId) {
      const commands = view.redis.multi().hdel(view.key('shoot-progress', shootId), 'planned');
      await sendAll(view, wake(view, commands, await rollIdsOf(view, shootId)));
    },
    async noteProxyFiled(shootId) {
      const commands = view.redis.multi().hincrby(view.key('shoot-progress', shootId), 'proxies', 1);
      await sendAll(view, wake(view, commands, await rollIdsOf(view, shootId)));
    },
    async noteGuestResults(shootId, results) {
      const key = view.key('shoot-progress', shootId);
      if (((await ask(view, (redis) => redis.hget(key, 'guests'))) ?? '') === results) return;
      const commands = view.redis.multi().hset(key, 'guests', results);
      await sendAll(view, wake(view, commands, await rollIdsOf(view, shootId)));
    },
    async noteShootRenamed(shootId) {
      const commands = view.redis.multi().hincrby(view.key('shoot-progress', shootId), 'acknowledgements', 1);
      await sendAll(view, wake(view, commands, await rollIdsOf(view, shootId)));
    },
    notePlanning: (planning) => notePlanning(view, planning),
    shootProgress: (shootId) => readProgress(view, shootId),
    async noteShootProgress(shootId, done) {
      const key = view.key('shoot-progress', shootId);
      const commands = view.redis.multi().hset(key, done);
      if (done.grouped !== undefined) commands.hdel(key, failureField('sync-grouping'));
      if (done.planned !== undefined) commands.hdel(key, failureField('proxy-planning'));
      if (done.recorded !== undefined) commands.hdel(key, failureField('records'));
      await sendAll(view, commands);
    },
    async noteShootFailure(shootId, step, failure) {
      const key = view.key('shoot-progress', shootId);
      await ask(view, (redis) => redis.hset(key, failureField(step), JSON.stringify(failure)));
    },
    async forgetShootFailure(shootId, step) {
      const key = view.key('shoot-progress', shootId);
      return (await ask(view, (redis) => redis.hdel(key, failureField(step)))) === 1;
    },
    acknowledgements: (shootId) => readAcknowledgements(view, shootId),
    async acknowledge(shootId, acknowledgement) {
      const commands = view.redis
        .multi()
        .hset(view.key('acknowledgements', shootId), acknowledgement.matter, JSON.stringify(acknowledgement))
        .hincrby(view.key('shoot-progress', shootId), 'acknowledgements', 1);
      await sendAll(view, wake(view, commands, await rollIdsOf(view, shootId)));
    },
  };
}

function failureField(step: ShootStep): string {
  return `failed ${step}`;
}

async function readProgress(view: View, shootId: string): Promise<ShootProgress> {
  const key = view.key('shoot-progress', shootId);
  const row = await ask(view, (redis) => redis.hgetall(key));
  const failed = ShootStep.options.flatMap((step) => {
    const failure = parseRow(view, Failure, { key: `${key} ${step}`, text: row[failureField(step)] });
    return failure === null ? [] : [[step, failure] as const];
  });
  const planning = await ask(view, (redis) => redis.get(view.key('planning')));
  return {
    ...(failed.length === 0 ? {} : { failed: Object.fromEntries(failed) }),
    grouped: row['grouped'] ?? null,
    recorded: row['recorded'] ?? null,
    planned: row['planned'] ?? null,
    proxies: Number(row['proxies'] ?? 0),
    guests: row['guests'] ?? '',
    planning: planning === '' ? null : planning,
    completed: row['completed'] ?? null,
    acknowledgements: Number(row['acknowledgements'] ?? 0),
  };
}

async function rollIdsOf(view: View, shootId: string): Promise<readonly string[]> {
  const shoots = await ask(view, (redis) => redis.hgetall(view.key('roll-shoots')));
  return Object.keys(shoots).filter((id) => shoots[id] === shootId);
}

async function notePlanning(view: View, planning: string | null): Promise<boolean> {
  const key = view.key('planning');
  if (((await ask(view, (redis) => redis.get(key))) ?? '') === (planning ?? '')) return false;
  const rollIds = Object.keys(await ask(view, (redis) => redis.hgetall(view.key('roll-shoots'))));
  const commands = view.redis.multi().set(key, planning ?? '');
  await sendAll(view, wake(view, commands, rollIds));
  return true;
}

async function readAcknowledgements(view: View, shootId: string): Promise<Record<string, Acknowledgement>> {
  const key = view.key('acknowledgements', shootId);
  const rows = await ask(view, (redis) => redis.hgetall(key));
  return Object.fromEntries(
    Object.entries(rows).flatMap(([matter, text]) => {
      const row = parseRow(view, Acknowledgement, { key: `${key} ${matter}`, text });
      return row === null ? [] : [[matter, row]];
    }),
  );
}
