import { setTimeout as wait } from 'node:timers/promises';
import { applyRollEvent } from '@quayside/job-queue';
import {
  believeTimes,
  isBeingTakenIn,
  keptCopies,
  nextReread,
  nextWished,
  type KeptCopy,
  type NextReread,
  type RereadWish,
} from '@quayside/pipeline';
import type { UpkeepParts } from './keep-up.ts';
import { KeptRegister } from './kept-register.ts';

/** A service that starts has more urgent things to do. */
const FIRST_PAUSE_MS = 5000;

const PAUSE_MS = 2000;
/** While a person waits for what was asked for. */
const SHORT_PAUSE_MS = 200;
/** What is due in days need not be looked for every second. */
const LOOK_AGAIN_MS = 10 * 60_000;
const DAY_MS = 24 * 60 * 60_000;

/**
 * Keeps what is kept true, until the signal aborts: begins to read it again, one roll at one destination at a time, first what
 * people have asked for, then what is longest unread. Nothing is begun while a drive is being taken in.
 */
export async function keepTrue(parts: UpkeepParts, signal: AbortSignal): Promise<void> {
  const keeper = new TruthKeeper(parts);
  await wait(FIRST_PAUSE_MS, undefined, { signal }).catch(() => {});
  while (!signal.aborted) {
    let isAwaited = false;
    try {
      isAwaited = await keeper.look(Date.now());
    } catch (error) {
      parts.log('What is to be read again could not be looked for; it is tried again.', { error: String(error) });
    }
    await wait(isAwaited ? SHORT_PAUSE_MS : PAUSE_MS, undefined, { signal }).catch(() => {});
  }
}

/** One look after the other at what is to be read again. */
export class TruthKeeper {
  readonly #parts: UpkeepParts;
  readonly #register: KeptRegister;
  #lookAtMs = 0;

  constructor(parts: UpkeepParts) {
    this.#parts = parts;
    this.#register = new KeptRegister(parts.store);
  }

  /** Begins what is due, at most one thing. True while a person waits for something. `nowMs` is of the clock on the wall. */
  async look(nowMs: number): Promise<boolean> {
    const { store, configuration } = this.#parts;
    const wishes = await store.rereadWishes();
    // Further ahead than it was ever put: a clock has been set back since.
    const isLater = nowMs < this.#lookAtMs && this.#lookAtMs - nowMs <= LOOK_AGAIN_MS;
    if (wishes.length === 0 && (isLater || configuration.verify.everyDays === null)) return false;
    // A view that was lost is read again from the records first.
    if (!(await store.isWhole())) return false;
    const awake = await store.awakeRolls();
    if (awake.some(isBeingTakenIn) || keptCopies(awake).some(({ reread }) => reread?.isUnderWay === true)) {
      return wishes.length > 0;
    }
    const copies = believeTimes(await this.#register.copies(), new Date(nowMs).toISOString());
    const wished = await this.#nextWished(copies, wishes);
    if (wished !== null) await this.#begin(wished, nowMs);
    else await this.#beginIfDue(await this.#nextByItself(copies), nowMs);
    return wished !== null;
  }

  /** Wishes of which nothing is left are done. */
  async #nextWished(copies: readonly KeptCopy[], wishes: readonly RereadWish[]): Promise<KeptCopy | null> {
    for (const wish of wishes) {
      const next = nextWished(copies, wish);
      if (next !== null) return next;
      await this.#parts.store.dropRereadWish(wish);
    }
    return null;
  }

  /** Of what is at a destination that is there. */
  async #nextByItself(copies: readonly KeptCopy[]): Promise<NextReread | null> {
    const { book, configuration } = this.#parts;
    const { everyDays } = configuration.verify;
    const names = [...new Set(copies.map(({ destination }) => destination))];
    const found = await book.look(names);
    const there = new Set(found.flatMap(({ destination, failure }) => (failure === null ? [destination.name] : [])));
    return nextReread(
      copies.filter(({ destination }) => there.has(destination)),
      { everyMs: everyDays === null ? null : everyDays * DAY_MS, msOf: Date.parse },
    );
  }

  async #beginIfDue(next: NextReread | null, nowMs: number): Promise<void> {
    if (next !== null && next.dueMs <= nowMs) return this.#begin(next.copy, nowMs);
    this.#lookAtMs = Math.min(next?.dueMs ?? Infinity, nowMs + LOOK_AGAIN_MS);
  }

  async #begin({ rollId, destination }: KeptCopy, nowMs: number): Promise<void> {
    const now = new Date(nowMs).toISOString();
    const event = { type: 'rereadRequested', destinations: [destination], since: now } as const;
    await applyRollEvent(this.#parts, rollId, { event, now });
  }
}
