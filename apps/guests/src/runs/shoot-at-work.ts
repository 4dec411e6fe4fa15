import type { Store } from '@quayside/job-queue';
import type { RunDecision } from '@quayside/pipeline';
import type { GuestWait } from '@quayside/shoot';
import type { Roots } from '../records/run-recorder.ts';
import { KnownRolls } from '../subjects/known-rolls.ts';
import type { PlanOfClips } from '../subjects/plan-of-clips.ts';
import type { KnownSubject } from '../subjects/subjects-of-shoot.ts';
import { KnownRuns } from './known-runs.ts';
import { idOfRun } from './make-run.ts';
import type { RunWork } from './reconcile-line.ts';

/** So many waits are written when they change; more than that at most every so many milliseconds. */
const FEW_WAITS = 100;
const MANY_WAITS_EVERY_MS = 2000;

/** What is remembered of a shoot between two looks, while something of it is wanted. */
export class ShootAtWork {
  readonly rolls = new KnownRolls();
  runs = new KnownRuns();
  /** The destinations of its rolls that are there. */
  roots: Roots = new Map();
  /** The plan of its proxies that the last look decided by. */
  plans: PlanOfClips | null = null;
  #decisions: readonly RunDecision[] = [];
  #subjects: readonly KnownSubject[] = [];
  #isRead = false;
  #waits: string | null = null;
  #waitsAt = 0;

  /** Reads the runs from the view, unless that was done and the view still has them. True when it has lost some. */
  async readRuns(store: Store, shootId: string): Promise<boolean> {
    // What is kept meanwhile only makes them more.
    const isLost = this.#isRead && (await store.guestRunCount(shootId)) < this.runs.size;
    if (this.#isRead && !isLost) return false;
    await this.readAnew(store, shootId);
    return isLost;
  }

  async readAnew(store: Store, shootId: string): Promise<void> {
    // In its place before it is read, so that what is kept while it is read is not missed.
    this.runs = new KnownRuns();
    await this.runs.read(store, shootId);
    this.#isRead = true;
  }

  /** Keeps what was decided last. */
  remember(decisions: readonly RunDecision[], subjects: readonly KnownSubject[]): void {
    this.#decisions = decisions;
    this.#subjects = subjects;
  }

  /** What was decided last on the run with this id. */
  find(id: string): RunWork | null {
    const shootId = this.#subjects[0]?.facts.shoot.id ?? '';
    const decision = this.#decisions.find(({ step, subject }) => idOfRun(shootId, step.fullName, subject) === id);
    const known = this.#subjects.find(({ subject }) => subject === decision?.subject);
    if (decision !== undefined && known !== undefined) return { decision, known };
    return null;
  }

  /** Shows what waits. False when it is to be shown later. */
  async showWaits(store: Store, shootId: string, waits: readonly GuestWait[]): Promise<boolean> {
    const text = JSON.stringify(waits);
    if (text === this.#waits) return true;
    if (waits.length > FEW_WAITS && performance.now() < this.#waitsAt + MANY_WAITS_EVERY_MS) return false;
    await store.saveGuestWaits(shootId, waits);
    this.#waits = text;
    this.#waitsAt = performance.now();
    return true;
  }
}
