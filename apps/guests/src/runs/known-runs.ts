import type { Store } from '@quayside/job-queue';
import { keyOfRun, type LastRun } from '@quayside/pipeline';
import type { GuestRunSummary } from '@quayside/shoot';

/** What is remembered of a run: without its findings and its output, of which there may be much. */
export interface KnownRun extends Pick<GuestRunSummary, 'id' | 'step' | 'subject' | 'rollId' | 'state' | 'filed'> {
  /** Null of one that is under way. */
  readonly last: LastRun | null;
}

/**
 * The last runs of a shoot. This process alone writes them, so while a shoot is at work they are remembered: read anew from
 * the view at each look, ten thousand would take longer than it takes to make a hundred.
 */
export class KnownRuns {
  readonly #byKey = new Map<string, KnownRun>();

  /** Reads those that are not known yet from the view. */
  async read(store: Store, shootId: string): Promise<void> {
    for (const run of await store.guestRuns(shootId)) if (this.get(run.step, run.subject) === undefined) this.note(run);
  }

  get size(): number {
    return this.#byKey.size;
  }

  /** Takes note of a run that was kept in the view. */
  note(run: GuestRunSummary): void {
    const { id, step, subject, rollId, state, filed } = run;
    this.#byKey.set(keyOfRun(step, subject), { id, step, subject, rollId, state, filed, last: lastRunOf(run) });
  }

  forget(run: KnownRun): void {
    this.#byKey.delete(keyOfRun(run.step, run.subject));
  }

  get(step: string, subject: GuestRunSummary['subject']): KnownRun | undefined {
    return this.#byKey.get(keyOfRun(step, subject));
  }

  all(): readonly KnownRun[] {
    return [...this.#byKey.values()];
  }

  /** By `keyOfRun`. */
  lastRuns(): ReadonlyMap<string, LastRun> {
    const last = new Map<string, LastRun>();
    for (const [key, run] of this.#byKey) if (run.last !== null) last.set(key, run.last);
    return last;
  }
}

function lastRunOf(run: GuestRunSummary): LastRun | null {
  const { state, why, fingerprint, outputDigest, tries, failure, endedAt } = run;
  // A service that was ended left it so.
  if (state === 'running') return null;
  return {
    fingerprint,
    state,
    why,
    output: outputDigest,
    tries,
    retry: failure === null || failure.retry === 'never' ? 'never' : 'later',
    endedAtMs: Date.parse(endedAt ?? ''),
  };
}
