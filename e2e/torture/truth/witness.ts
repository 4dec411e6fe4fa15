import { setTimeout as wait } from 'node:timers/promises';
import type { StreamedEvent } from '@quayside/shoot';
import type { Service, ShownRoll } from '../../service/start-service.ts';

const LOOK_EVERY_MS = 80;

/** A verdict that was given: by the state that the API shows, or by an event. */
export interface GivenVerdict {
  readonly roll: Pick<ShownRoll, 'id' | 'shootId' | 'recorder'>;
  readonly verdict: 'clear' | 'hold';
  readonly judgedAtMs: number;
  readonly reasons: readonly string[];
  readonly isOfEarlierRun: boolean;
}

/** Looks at the API all the time and keeps every verdict that it ever gives. That it does not answer is no fault of its own. */
export class Witness implements AsyncDisposable {
  readonly #service: Service;
  readonly #given = new Map<string, GivenVerdict>();
  readonly #onVerdict: (given: GivenVerdict) => void;
  readonly #onLook: (rolls: readonly ShownRoll[]) => void;
  readonly #begunAtMs = Date.now();
  #earlier: ReadonlySet<string> = new Set();
  #lastEvent = '0';
  #rolls: readonly ShownRoll[] = [];
  #isOver = false;
  #watching: Promise<void> = Promise.resolve();

  private constructor(
    service: Service,
    listeners: {
      readonly onVerdict: (given: GivenVerdict) => void;
      readonly onLook: (rolls: readonly ShownRoll[]) => void;
    },
  ) {
    this.#service = service;
    this.#onVerdict = listeners.onVerdict;
    this.#onLook = listeners.onLook;
  }

  /** From now on, rolls that are not known yet belong to this run. */
  static async begin(
    service: Service,
    listeners: {
      readonly onVerdict: (given: GivenVerdict) => void;
      readonly onLook: (rolls: readonly ShownRoll[]) => void;
    },
  ): Promise<Witness> {
    const witness = new Witness(service, listeners);
    // The run before may have left a part of the service on its way up again.
    const rolls = await service.until('the API answers', () => service.rolls().catch(() => null), 60_000);
    witness.#earlier = new Set(rolls.map(({ id }) => id));
    for (const roll of rolls) witness.#given.set(keyOf(roll), givenBy(roll, true));
    witness.#lastEvent = await lastEventOf(service);
    witness.#watching = witness.#watch();
    return witness;
  }

  /** The rolls of this run, as last seen. */
  get rolls(): readonly ShownRoll[] {
    return this.#rolls;
  }

  get given(): readonly GivenVerdict[] {
    return [...this.#given.values()].filter(({ isOfEarlierRun }) => !isOfEarlierRun);
  }

  /** Looks at once, so that nothing that was said before this call is missed. Gives whether there was an answer. */
  async look(): Promise<boolean> {
    const rolls = await this.#service.rolls().catch(() => null);
    if (rolls === null) return false;
    this.#rolls = rolls.filter(({ id }) => !this.#earlier.has(id));
    for (const roll of rolls) this.#take(keyOf(roll), givenBy(roll, this.#earlier.has(roll.id)));
    await this.#lookAtEvents(rolls);
    this.#onLook(this.#rolls);
    return true;
  }

  async [Symbol.asyncDispose](): Promise<void> {
    this.#isOver = true;
    await this.#watching;
  }

  async #watch(): Promise<void> {
    while (!this.#isOver) {
      await this.look();
      await wait(LOOK_EVERY_MS);
    }
  }

  /** A verdict that stood for less than a look shows in the events only. */
  async #lookAtEvents(rolls: readonly ShownRoll[]): Promise<void> {
    for (const event of await this.#newEvents()) {
      this.#lastEvent = event.id;
      const roll = rolls.find(({ id }) => id === event.subject);
      if (event.type !== 'roll.clear' || roll === undefined) continue;
      const atMs = Date.parse(event.at);
      // Looked at again after a loss, events of earlier runs come once more.
      if (atMs < this.#begunAtMs) continue;
      const isKnown = [...this.#given.values()].some(
        (given) =>
          given.roll.id === roll.id && given.verdict === 'clear' && Math.abs(given.judgedAtMs - atMs) < EVENT_DELAY_MS,
      );
      const facts = {
        verdict: 'clear',
        judgedAtMs: atMs,
        reasons: [],
        isOfEarlierRun: this.#earlier.has(roll.id),
      } as const;
      if (!isKnown) this.#take(`${roll.id} event ${event.id}`, { roll, ...facts });
    }
  }

  async #newEvents(): Promise<readonly StreamedEvent[]> {
    try {
      const { events } = await this.#service.get<{ events: readonly StreamedEvent[] }>(
        `/v1/events/list?after=${this.#lastEvent}&limit=1000`,
      );
      return events;
    } catch {
      // Redis has lost its events, or the API is away: all that is there is looked at again.
      this.#lastEvent = '0';
      return [];
    }
  }

  #take(key: string, given: GivenVerdict): void {
    if (this.#given.has(key)) return;
    this.#given.set(key, given);
    this.#onVerdict(given);
  }
}

async function lastEventOf(service: Service): Promise<string> {
  let last = '0';
  for (;;) {
    const { events } = await service.get<{ events: readonly StreamedEvent[] }>(
      `/v1/events/list?after=${last}&limit=1000`,
    );
    if (events.length === 0) return last;
    last = events.at(-1)?.id ?? last;
  }
}

const EVENT_DELAY_MS = 5000;

function givenBy(roll: ShownRoll, isOfEarlierRun: boolean): GivenVerdict {
  const { clearance } = roll;
  return {
    roll,
    verdict: clearance.verdict,
    judgedAtMs: Date.parse(clearance.judgedAt),
    reasons: clearance.verdict === 'hold' ? clearance.reasons.map(({ code }) => code) : [],
    isOfEarlierRun,
  };
}

function keyOf(roll: ShownRoll): string {
  return `${roll.id} ${roll.clearance.verdict} ${roll.clearance.judgedAt}`;
}
