/** Numbers that are compared one after the other: the lower goes first. */
export type Rank = readonly number[];

/** A run that waits for its turn or is under way. */
export interface LinedUp<Work> {
  /** Names the step on its subject in its shoot: one run of it at a time. */
  readonly key: string;
  readonly shootId: string;
  readonly plugin: string;
  readonly step: string;
  /** What is to be done; of one that still waits it may be replaced. */
  work: Work;
  /** When its turn comes among the runs of its step; of equal ones the one that was asked for first. As `work`. */
  rank: Rank;
  state: 'waiting' | 'running' | 'ending';
  readonly stop: AbortController;
}

export interface Limits {
  /** How many runs of a step may be under way at once, by its full name; 1 for one that is not known (any more). */
  ofStep(step: string): number;
  /** The same for all steps of a plugin together. */
  ofPlugin(plugin: string): number;
}

/**
 * The runs of guests' steps by rank, and of equal rank in the order in which they were asked for: a step's next one begins when its limit and that of
 * its plugin allow. A step that is at its own limit keeps no place of its plugin from another step.
 */
export class RunLine<Work> {
  readonly #limits: Limits;
  readonly #begin: (run: LinedUp<Work>, leave: () => void) => Promise<void>;
  readonly #byKey = new Map<string, LinedUp<Work>>();
  readonly #waiting = new Map<string, Set<LinedUp<Work>>>();
  /** The steps of which runs have ranks: sorting ten thousand without, at each turn, would take longer than the runs. */
  readonly #ranked = new Set<string>();
  readonly #running = new Map<string, number>();
  readonly #ends = new Set<Promise<void>>();
  #isStopped = false;

  /**
   * `begin` does the work and must not reject. The run's turn is over when it calls `leave`, or else when it settles: until
   * then no other run of the step takes its place, and until it settles none with its key.
   */
  constructor(limits: Limits, begin: (run: LinedUp<Work>, leave: () => void) => Promise<void>) {
    this.#limits = limits;
    this.#begin = begin;
  }

  get(key: string): LinedUp<Work> | undefined {
    return this.#byKey.get(key);
  }

  /** Those of a shoot. */
  of(shootId: string): readonly LinedUp<Work>[] {
    return [...this.#byKey.values()].filter((run) => run.shootId === shootId);
  }

  /** Has a run made when its turn comes. Of one that waits already the work is replaced; one that is under way goes on. */
  add(run: Pick<LinedUp<Work>, 'key' | 'shootId' | 'plugin' | 'step' | 'work' | 'rank'>): void {
    if (run.rank.length > 0) this.#ranked.add(run.step);
    const known = this.#byKey.get(run.key);
    if (known?.state === 'waiting') [known.work, known.rank] = [run.work, run.rank];
    if (known !== undefined) return;
    const added: LinedUp<Work> = { ...run, state: 'waiting', stop: new AbortController() };
    this.#byKey.set(run.key, added);
    const others = this.#waiting.get(run.step);
    if (others === undefined) this.#waiting.set(run.step, new Set([added]));
    else others.add(added);
  }

  /** Takes a run that still waits out of the line. */
  drop(run: LinedUp<Work>): void {
    if (run.state !== 'waiting') return;
    this.#byKey.delete(run.key);
    this.#waiting.get(run.step)?.delete(run);
  }

  /** Begins what may begin now. */
  advance(): void {
    if (this.#isStopped) return;
    for (const [step, runs] of this.#waiting) {
      for (const run of this.#ranked.has(step) ? inOrder(runs) : runs) {
        if (!this.#hasPlace(run)) break;
        runs.delete(run);
        this.#start(run);
      }
      if (runs.size === 0) this.#waiting.delete(step);
    }
  }

  /** Begins nothing more and stops what is under way, for no reason of its own. */
  stop(): void {
    this.#isStopped = true;
    for (const run of this.#byKey.values()) if (run.state === 'running') run.stop.abort();
  }

  /** Settles when nothing is under way any more. */
  async settled(): Promise<void> {
    while (this.#ends.size > 0) await Promise.all(this.#ends);
  }

  #hasPlace({ step, plugin }: LinedUp<Work>): boolean {
    const now = (name: string): number => this.#running.get(name) ?? 0;
    return now(step) < this.#limits.ofStep(step) && now(plugin) < this.#limits.ofPlugin(plugin);
  }

  #start(run: LinedUp<Work>): void {
    run.state = 'running';
    const names = [run.step, run.plugin];
    for (const name of names) this.#running.set(name, (this.#running.get(name) ?? 0) + 1);
    const leave = (): void => {
      if (run.state !== 'running') return;
      run.state = 'ending';
      for (const name of names) this.#running.set(name, (this.#running.get(name) ?? 1) - 1);
      this.advance();
    };
    const end = this.#begin(run, leave).finally(() => {
      this.#byKey.delete(run.key);
      this.#ends.delete(end);
      leave();
    });
    this.#ends.add(end);
  }
}

function inOrder<Work>(runs: Iterable<LinedUp<Work>>): readonly LinedUp<Work>[] {
  return [...runs].toSorted((one, other) => compareRanks(one.rank, other.rank));
}

/** Negative when the first goes before the second; what one of them does not say is equal. */
export function compareRanks(one: Rank, other: Rank): number {
  const place = one.findIndex((number, at) => other[at] !== undefined && other[at] !== number);
  return place === -1 ? 0 : (one[place] ?? 0) - (other[place] ?? 0);
}
