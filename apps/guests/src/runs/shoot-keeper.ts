import { join } from 'node:path';
import type { Configuration } from '@quayside/configuration';
import type { GuestOrder } from '@quayside/job-queue';
import { decideRuns, keyOfRun, type LastRun, type RunDecision } from '@quayside/pipeline';
import type { LogLine } from '@quayside/service-process';
import { failureOf, rollFolder, type GuestRunSummary, type Shoot } from '@quayside/shoot';
import { digestOf, type LoadedPlugins } from '../plugins/load-plugins.ts';
import { readRunRecords } from '../records/run-records.ts';
import { knownDestinations } from '../subjects/known-destinations.ts';
import { type KnownSubject, subjectsOfShoot } from '../subjects/subjects-of-shoot.ts';
import { idOfRun, makeRun, type RunParts } from './make-run.ts';
import { outputsBefore } from './outputs-before.ts';
import { Turns } from './turns.ts';

export interface KeeperParts extends RunParts {
  readonly configuration: Pick<Configuration, 'data' | 'destinations'>;
  readonly loaded: LoadedPlugins;
  readonly log: LogLine;
  /** Told when a run has ended. */
  readonly onEnd: (shootId: string, run: GuestRunSummary) => Promise<void>;
}

/** Looks at shoots, and makes the runs that they want, as many at once as plugins and steps allow. */
export class ShootKeeper {
  #parts: KeeperParts;
  readonly #underWay = new Map<string, Promise<void>>();
  readonly #restored = new Set<string>();
  readonly #turns = new Map<string, Turns>();
  readonly #stops = new Map<string, AbortController>();

  constructor(parts: KeeperParts) {
    this.#parts = parts;
  }

  /** Runs that begin from now on are of these plugins; those under way go on. */
  use(loaded: LoadedPlugins): void {
    this.#parts = { ...this.#parts, loaded };
  }

  /** Begins the runs that a shoot wants now. True when it may want more later without anything else happening first. */
  async look(shoot: Shoot): Promise<boolean> {
    const { store, loaded, configuration } = this.#parts;
    const destinations = await knownDestinations(configuration);
    await this.#restore(shoot.id, destinations);
    const subjects = await subjectsOfShoot(store, shoot, destinations);
    await this.#letGoOfOthers(shoot.id, subjects, destinations);
    const runs = await store.guestRuns(shoot.id);
    const decisions = decideRuns({
      steps: loaded.steps,
      subjects: subjects.map(({ subject }) => subject),
      lastRuns: new Map(runs.flatMap((run) => lastRunOf(run))),
      configs: loaded.configs,
      nowMs: Date.now(),
      digest: digestOf,
    });
    const known = new Map(subjects.map((one) => [`${one.subject.kind} ${one.subject.id}`, one]));
    for (const decision of decisions) {
      const subject = known.get(`${decision.subject.kind} ${decision.subject.id}`);
      if (decision.verdict === 'run' && subject !== undefined) this.#begin(shoot, decision, subject);
    }
    return decisions.some(({ verdict }) => verdict === 'run' || verdict === 'wait');
  }

  /** Does what a person wants of a run. Returns the shoot to look at, or null when there is no such run. */
  async obey(id: string, order: GuestOrder): Promise<string | null> {
    const { store } = this.#parts;
    const run = await store.guestRun(id);
    if (run === null) return null;
    const stop = this.#stops.get(id);
    if (stop !== undefined && order !== 'retry') {
      // It is kept as stopped when it has ended; what was to be left out then stays so until something changes.
      stop.abort();
      return run.shootId;
    }
    if (stop === undefined && order === 'retry') await store.saveGuestRun({ ...run, ...ASKED_FOR_AGAIN });
    if (stop === undefined && order === 'skip') await store.saveGuestRun({ ...run, ...LEFT_OUT });
    return run.shootId;
  }

  /** Settles when the runs that are under way have ended. */
  async settled(): Promise<void> {
    await Promise.allSettled(this.#underWay.values());
  }

  /** Ends the processes without work that can still read a roll which is no longer proven: copies may be made there again. */
  async #letGoOfOthers(
    shootId: string,
    subjects: readonly KnownSubject[],
    destinations: ReadonlyMap<string, string>,
  ): Promise<void> {
    const proven = new Set(subjects.flatMap(({ rollFolders }) => Object.keys(rollFolders)));
    for (const roll of await this.#parts.store.rollsOfShoot(shootId)) {
      if (proven.has(roll.id)) continue;
      for (const root of destinations.values()) await this.#parts.host.letGoOf(join(root, rollFolder(roll)));
    }
  }

  #begin(shoot: Shoot, decision: RunDecision, known: KnownSubject): void {
    const key = `${shoot.id} ${keyOfRun(decision.step.fullName, decision.subject)}`;
    if (this.#underWay.has(key)) return;
    const work = this.#run(decision, known)
      .then((run) => (run === null ? undefined : this.#parts.onEnd(shoot.id, run)))
      // Redis that is away, say: the next look begins it again.
      .catch((error: unknown) => this.#parts.log(failureOf(error).sentence, { step: decision.step.fullName }))
      .finally(() => this.#underWay.delete(key));
    this.#underWay.set(key, work);
  }

  async #run(decision: RunDecision, known: KnownSubject): Promise<GuestRunSummary | null> {
    const { loaded, store, signal } = this.#parts;
    const { step } = decision;
    const plugin = loaded.plugins.get(step.plugin);
    if (plugin === undefined) return null;
    const ofStep = this.#turnsOf(step.fullName, step.limits.parallel);
    const id = idOfRun(step.fullName, decision.subject);
    const stop = new AbortController();
    this.#stops.set(id, stop);
    const ended = this.#turnsOf(step.plugin, plugin.parallel).take(() =>
      ofStep.take(async () => {
        if (signal.aborted) return null;
        if (stop.signal.aborted) return this.#leaveOut(id, decision);
        const outputs = await outputsBefore(store, {
          step,
          subject: decision.subject,
          shootId: known.facts.shoot.id,
          steps: loaded.steps,
        });
        return await makeRun(this.#parts, { decision, known, loaded: plugin, outputs }, stop.signal);
      }),
    );
    return ended.finally(() => this.#stops.delete(id));
  }

  /** A run that was stopped before its turn came. One that was never made is begun again later: there is nothing to stop yet. */
  async #leaveOut(id: string, { fingerprint }: RunDecision): Promise<GuestRunSummary | null> {
    const run = await this.#parts.store.guestRun(id);
    if (run === null) return null;
    await this.#parts.store.saveGuestRun({ ...run, ...LEFT_OUT, fingerprint });
    return { ...run, ...LEFT_OUT, fingerprint };
  }

  #turnsOf(name: string, count: number): Turns {
    const turns = this.#turns.get(name) ?? new Turns(count);
    this.#turns.set(name, turns);
    return turns;
  }

  /** Takes over, once, what an earlier service has on record beside the footage and the view has not. */
  async #restore(shootId: string, destinations: ReadonlyMap<string, string>): Promise<void> {
    for (const [name, root] of destinations) {
      const once = `${shootId} ${name}`;
      if (this.#restored.has(once)) continue;
      const have = new Set((await this.#parts.store.guestRuns(shootId)).map(({ id }) => id));
      for (const record of await readRunRecords(root, shootId)) {
        if (record.shootId === shootId && !have.has(record.id)) await this.#parts.store.saveGuestRun(record);
      }
      this.#restored.add(once);
    }
  }
}

const ASKED_FOR_AGAIN = { state: 'waiting', why: 'A person asked for it again.', tries: 0, failure: null } as const;
const LEFT_OUT = { state: 'cancelled' as const, why: 'A person left it out.', failure: null, findings: [] };

function lastRunOf(run: GuestRunSummary): readonly [string, LastRun][] {
  const { state, step, subject, fingerprint, outputDigest, tries, failure, endedAt } = run;
  if (state === 'waiting' || state === 'running') return [];
  const last: LastRun = {
    fingerprint,
    state,
    output: outputDigest,
    tries,
    retry: failure === null || failure.retry === 'never' ? 'never' : 'later',
    endedAtMs: Date.parse(endedAt ?? ''),
  };
  return [[keyOfRun(step, subject), last]];
}
