import { GuestRunRecord, GuestRunSummary, GuestWait, PluginStanding } from '@quayside/shoot';
import { z } from 'zod';
import { packJson } from './packed-json.ts';
import { BuiltInNode, GuestOrder, type Store } from './store.ts';
import { ask, parseRow, sendAll, type View } from './view.ts';

type Kept =
  | 'plugins'
  | 'savePlugins'
  | 'builtInSteps'
  | 'saveBuiltInSteps'
  | 'guestRuns'
  | 'guestRun'
  | 'guestRunCount'
  | 'saveGuestRun'
  | 'saveGuestRuns'
  | 'guestWaits'
  | 'saveGuestWaits'
  | 'forgetGuestRuns'
  | 'orderGuestRun'
  | 'takeGuestOrders';

/** Keeps what became of guests' steps: one row for each step and subject, the last run of it. */
export function keepGuestRuns(view: View): Pick<Store, Kept> {
  const key = (shootId: string): string => view.key('guest-runs', shootId);
  const saveRuns = async (records: readonly GuestRunRecord[]): Promise<void> => {
    if (records.length === 0) return;
    const commands = view.redis.multi();
    for (const record of records) {
      const { output: _output, files: _files, log: _log, ...summary } = record;
      commands.hset(key(record.shootId), record.id, packJson(summary));
      commands.set(view.key('guest-run', record.id), packJson(record));
    }
    await sendAll(view, commands);
  };
  return {
    async plugins() {
      const text = await ask(view, (redis) => redis.get(view.key('plugins')));
      return parseRow(view, z.array(PluginStanding), { key: view.key('plugins'), text }) ?? [];
    },
    async savePlugins(plugins) {
      await ask(view, (redis) => redis.set(view.key('plugins'), JSON.stringify(plugins)));
    },
    async builtInSteps() {
      const text = await ask(view, (redis) => redis.get(view.key('built-in-steps')));
      return parseRow(view, z.array(BuiltInNode), { key: view.key('built-in-steps'), text }) ?? [];
    },
    async saveBuiltInSteps(steps) {
      await ask(view, (redis) => redis.set(view.key('built-in-steps'), JSON.stringify(steps)));
    },
    async guestRuns(shootId) {
      const rows = await ask(view, (redis) => redis.hgetallBuffer(key(shootId)));
      return Object.entries(rows).flatMap(
        ([id, text]) => parseRow(view, GuestRunSummary, { key: `${key(shootId)} ${id}`, text }) ?? [],
      );
    },
    async guestRun(id) {
      const text = await ask(view, (redis) => redis.getBuffer(view.key('guest-run', id)));
      return parseRow(view, GuestRunRecord, { key: view.key('guest-run', id), text });
    },
    guestRunCount: (shootId) => ask(view, (redis) => redis.hlen(key(shootId))),
    saveGuestRun: (record) => saveRuns([record]),
    saveGuestRuns: saveRuns,
    async guestWaits(shootId) {
      const text = await ask(view, (redis) => redis.getBuffer(view.key('guest-waits', shootId)));
      return parseRow(view, z.array(GuestWait), { key: view.key('guest-waits', shootId), text }) ?? [];
    },
    async saveGuestWaits(shootId, waits) {
      await ask(view, (redis) => redis.set(view.key('guest-waits', shootId), packJson(waits)));
    },
    async orderGuestRun(id, order) {
      await ask(view, (redis) => redis.hset(view.key('guest-orders'), id, order));
    },
    async takeGuestOrders() {
      const orders = view.key('guest-orders');
      const [rows] = await sendAll(view, view.redis.multi().hgetall(orders).del(orders));
      const parsed = z.record(z.string(), GuestOrder).safeParse(rows);
      return new Map(Object.entries(parsed.success ? parsed.data : {}));
    },
    async forgetGuestRuns(shootId, ids) {
      if (ids.length === 0) return;
      const commands = view.redis.multi().hdel(key(shootId), ...ids);
      await sendAll(view, commands.del(...ids.map((id) => view.key('guest-run', id))));
    },
  };
}
