import { setTimeout as wait } from 'node:timers/promises';
import type { Store } from '@quayside/job-queue';
import { failureOf, type GuestRunRecord } from '@quayside/shoot';
import { appendRuns } from './run-journal.ts';

/** The roots of the destinations at which a shoot's runs are put on record, by name. */
export type Roots = ReadonlyMap<string, string>;

interface Waiting {
  readonly record: GuestRunRecord;
  readonly roots: Roots;
  readonly resolve: (kept: GuestRunRecord) => void;
  readonly reject: (error: unknown) => void;
}

/** How long, in milliseconds, a run waits for others to go on record with: each sync keeps the disk from copying footage. */
const GATHER_MS = 100;
const MOST_AT_ONCE = 200;

/** Keeps what became of runs, beside the footage and then in the view, many at once. */
export class RunRecorder {
  readonly #store: Store;
  readonly #onUnwritten: (root: string, shootId: string) => void;
  #waiting: Waiting[] = [];
  #isWriting = false;
  #hasRoom = Promise.withResolvers<void>();

  /** `onUnwritten` is told of a destination that lacks records which are there at others. */
  constructor(store: Store, onUnwritten: (root: string, shootId: string) => void) {
    this.#store = store;
    this.#onUnwritten = onUnwritten;
    this.#hasRoom.resolve();
  }

  /**
   * Keeps a run and settles when it is durable: with the run as it was kept. One that went well and that no destination
   * could take down has failed: without a record it would be made again whenever the view is lost.
   */
  keep(record: GuestRunRecord, roots: Roots): Promise<GuestRunRecord> {
    const { promise, resolve, reject } = Promise.withResolvers<GuestRunRecord>();
    this.#waiting.push({ record, roots, resolve, reject });
    if (this.#waiting.length === MOST_AT_ONCE) this.#hasRoom = Promise.withResolvers<void>();
    void this.#write();
    return promise;
  }

  /** Settles when not too many runs wait to be kept. */
  async room(): Promise<void> {
    await this.#hasRoom.promise;
  }

  async #write(): Promise<void> {
    if (this.#isWriting) return;
    this.#isWriting = true;
    while (this.#waiting.length > 0) {
      await wait(GATHER_MS);
      const some = this.#waiting;
      this.#waiting = [];
      this.#hasRoom.resolve();
      await this.#keepAll(some);
    }
    this.#isWriting = false;
  }

  async #keepAll(some: readonly Waiting[]): Promise<void> {
    const failed = new Map<Waiting, unknown>();
    const written = new Set<Waiting>();
    const groups = Map.groupBy(
      some
        .filter(({ record }) => isForRecord(record))
        .flatMap((one) => [...one.roots.values()].map((root) => ({ one, root }))),
      ({ one, root }) => JSON.stringify([root, one.record.shootId]),
    );
    await Promise.all(
      [...groups.values()].map(async (group) => {
        const [{ root, one: first } = { root: '', one: null }] = group;
        if (first === null) return;
        try {
          await appendRuns(
            root,
            first.record.shootId,
            group.map(({ one }) => one.record),
          );
          for (const { one } of group) written.add(one);
        } catch (error) {
          this.#onUnwritten(root, first.record.shootId);
          for (const { one } of group) failed.set(one, error);
        }
      }),
    );
    const kept = some.map((one) => {
      const isLost = isForRecord(one.record) && !written.has(one);
      return isLost ? withoutRecord(one.record, failed.get(one)) : one.record;
    });
    try {
      await this.#store.saveGuestRuns(kept);
      for (const [place, { resolve, record }] of some.entries()) resolve(kept[place] ?? record);
    } catch (error) {
      for (const { reject } of some) reject(error);
    }
  }
}

function isForRecord({ state }: GuestRunRecord): boolean {
  return state === 'done' || state === 'skipped';
}

function withoutRecord(record: GuestRunRecord, error: unknown): GuestRunRecord {
  const why = error ?? new Error('No destination of the shoot is there to take it down.');
  return { ...record, state: 'failed', failure: { ...failureOf(why), retry: 'later' } };
}
