import type { Store } from '@quayside/job-queue';
import type { GuestRunRecord } from '@quayside/shoot';
import { isFiledStill } from './is-filed-still.ts';
import { appendRuns, readRuns } from './run-journal.ts';

const AT_ONCE = 100;

/**
 * Brings the view and what a destination has on record of a shoot's runs to one state: the view takes over what an earlier
 * service left there and it has lost, and the destination what was done while it was away. The later of two counts.
 */
export async function levelRecords(store: Store, root: string, shootId: string): Promise<void> {
  const inView = new Map((await store.guestRuns(shootId)).map((run) => [run.id, run]));
  const onRecord = new Map<string, string>();
  let batch: GuestRunRecord[] = [];
  for await (const record of readRuns(root, shootId)) {
    onRecord.set(record.id, record.endedAt ?? '');
    const known = inView.get(record.id);
    if (known !== undefined && (known.endedAt ?? '~') >= (record.endedAt ?? '')) continue;
    if (!(await isFiledStill(root, record))) continue;
    batch.push(known === undefined ? { ...record, isRecognised: true } : record);
    if (batch.length < AT_ONCE) continue;
    await store.saveGuestRuns(batch);
    batch = [];
  }
  await store.saveGuestRuns(batch);
  const missing = [...inView.values()].filter(
    ({ id, state, endedAt }) =>
      (state === 'done' || state === 'skipped') && endedAt !== null && endedAt > (onRecord.get(id) ?? ''),
  );
  for (let from = 0; from < missing.length; from += AT_ONCE) {
    const some = missing.slice(from, from + AT_ONCE);
    const records = await Promise.all(some.map(({ id }) => store.guestRun(id)));
    await appendRuns(
      root,
      shootId,
      records.filter((record) => record !== null),
    );
  }
}
