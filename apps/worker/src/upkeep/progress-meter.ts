import type { RollProgress, Store } from '@quayside/job-queue';
import type { RunRequest } from '@quayside/shoot';

/** Counts bytes moved for each roll and shows them at most twice a second; it never delays the work. */
export class ProgressMeter {
  readonly #store: Store;
  readonly #rolls = new Map<string, Tally>();

  constructor(store: Store) {
    this.#store = store;
  }

  open(run: RunRequest): { note(bytes: number): void; close(): void } {
    const kind = KINDS[run.step];
    if (kind === undefined) return { note: () => {}, close: () => {} };
    const tally = this.#tallyOf(run);
    let seen = 0;
    return {
      note: (bytes) => {
        tally.add(kind, bytes - seen);
        seen = bytes;
        this.#show(run.subject, tally);
      },
      close: () => this.#show(run.subject, tally),
    };
  }

  #tallyOf(run: RunRequest): Tally {
    const visit = typeof run.inputs['visit'] === 'number' ? run.inputs['visit'] : 1;
    const known = this.#rolls.get(run.subject);
    if (known?.visit === visit) return known;
    const fresh = new Tally(visit);
    this.#rolls.set(run.subject, fresh);
    return fresh;
  }

  #show(rollId: string, tally: Tally): void {
    const progress = tally.due(Date.now());
    // A progress bar that misses a beat is no failure, and Redis being away is told elsewhere.
    if (progress !== null) this.#store.noteProgress(rollId, progress).catch(() => {});
  }
}

const KINDS: Readonly<Record<string, 'copiedBytes' | 'verifiedBytes'>> = {
  ingest: 'copiedBytes',
  recopy: 'copiedBytes',
  checksum: 'verifiedBytes',
};
const SHOW_EVERY_MS = 500;
const RATE_WINDOW_MS = 5000;

class Tally {
  readonly visit: number;
  readonly #bytes = { copiedBytes: 0, verifiedBytes: 0 };
  readonly #samples: { at: number; total: number }[] = [];
  #shownAt = 0;

  constructor(visit: number) {
    this.visit = visit;
  }

  add(kind: 'copiedBytes' | 'verifiedBytes', bytes: number): void {
    this.#bytes[kind] += Math.max(bytes, 0);
  }

  due(now: number): RollProgress | null {
    if (now - this.#shownAt < SHOW_EVERY_MS) return null;
    this.#shownAt = now;
    const total = this.#bytes.copiedBytes + this.#bytes.verifiedBytes;
    this.#samples.push({ at: now, total });
    while ((this.#samples[0]?.at ?? now) < now - RATE_WINDOW_MS) this.#samples.shift();
    const first = this.#samples[0];
    const elapsedMs = first === undefined ? 0 : now - first.at;
    const bytesPerSecond = first === undefined || elapsedMs === 0 ? 0 : ((total - first.total) * 1000) / elapsedMs;
    return { visit: this.visit, ...this.#bytes, bytesPerSecond: Math.round(bytesPerSecond), at: now };
  }
}
