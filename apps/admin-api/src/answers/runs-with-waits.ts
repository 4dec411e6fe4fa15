import type { Store } from '@quayside/job-queue';
import { type GuestRunRecord, GuestRunSummary, GuestWait } from '@quayside/shoot';
import type { z } from 'zod';

/** What a step waits for; null when it waits for nothing. */
const Waits = GuestWait.pick({ why: true, notBefore: true }).nullable();

/** A run as it is listed: its state is that of the last one that was made, or `waiting` when there was none yet. */
export const ListedRun = GuestRunSummary.extend({
  waits: Waits.describe('What its next run waits for, and from when it may be made where that is known.'),
});
export type ListedRun = z.output<typeof ListedRun>;

/** The runs of a shoot and what waits in it: a row for each step on each subject. */
export async function runsWithWaits(store: Store, shootId: string): Promise<readonly ListedRun[]> {
  const [runs, waits] = await Promise.all([store.guestRuns(shootId), store.guestWaits(shootId)]);
  const waiting = new Map(waits.map((wait) => [wait.id, wait]));
  const known = new Set(runs.map(({ id }) => id));
  return [
    ...runs.map((run) => ({ ...run, waits: waitsOf(waiting.get(run.id)) })),
    ...waits.filter(({ id }) => !known.has(id)).map((wait) => notRunYet(shootId, wait)),
  ];
}

/** One of them whole, or null when there is none with this id. */
export async function runWithWaits(
  store: Store,
  id: string,
): Promise<(GuestRunRecord & Pick<ListedRun, 'waits'>) | null> {
  const run = await store.guestRun(id);
  const shoots = run === null ? (await store.shoots()).map((shoot) => shoot.id) : [run.shootId];
  for (const shootId of shoots) {
    const wait = (await store.guestWaits(shootId)).find((one) => one.id === id);
    if (wait === undefined) continue;
    const nothing = { output: null, files: [], log: { head: [], droppedLines: 0, tail: [] } };
    return { ...(run ?? { ...notRunYet(shootId, wait), ...nothing }), waits: waitsOf(wait) };
  }
  return run === null ? null : { ...run, waits: null };
}

function waitsOf(wait: GuestWait | undefined): ListedRun['waits'] {
  return wait === undefined ? null : { why: wait.why, notBefore: wait.notBefore };
}

function notRunYet(shootId: string, { id, step, version, subject, rollId, why, notBefore }: GuestWait): ListedRun {
  return {
    id,
    step,
    version,
    subject,
    shootId,
    rollId,
    state: 'waiting',
    why,
    waits: { why, notBefore },
    fingerprint: { version: '', config: '', subject: '', outputs: '' },
    tries: 0,
    failure: null,
    outputDigest: '',
    findings: [],
    filed: null,
    progress: null,
    startedAt: null,
    endedAt: null,
    tookMs: null,
  };
}
