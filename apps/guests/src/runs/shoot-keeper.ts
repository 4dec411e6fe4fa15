import { join } from 'node:path';
import type { Configuration } from '@quayside/configuration';
import type { GuestHost } from '@quayside/guest-host';
import type { GuestOrder, Store } from '@quayside/job-queue';
import { decideRuns, type RunDecision } from '@quayside/pipeline';
import type { LogLine } from '@quayside/service-process';
import { rollFolder, type GuestRunRecord, type GuestRunSummary, type Roll, type Shoot } from '@quayside/shoot';
import { digestOf, type LoadedPlugins } from '../plugins/load-plugins.ts';
import { levelRecords } from '../records/level-records.ts';
import { lackingAt } from '../records/output-keeper.ts';
import { type Roots, RunRecorder } from '../records/run-recorder.ts';
import { knownDestinations } from '../subjects/known-destinations.ts';
import {
  builtInOutputs,
  followsPlan,
  planOfClips,
  type PlanOfClips,
  type ProxyPolicy,
} from '../subjects/plan-of-clips.ts';
import { subjectsOfShoot } from '../subjects/subjects-of-shoot.ts';
import type { KnownRun } from './known-runs.ts';
import { newRecord } from './make-run.ts';
import { keyInLine, reconcileLine, type RunWork } from './reconcile-line.ts';
import { makesWay, RoadWatch } from './road-watch.ts';
import { type Rank, RunLine } from './run-line.ts';
import { RunMaker } from './run-maker.ts';
import { ShootAtWork } from './shoot-at-work.ts';
import { StopReason } from './stop-reason.ts';
import { waitsOfShoot } from './waits-of-shoot.ts';

export interface KeeperParts {
  readonly store: Store;
  readonly host: GuestHost;
  readonly configuration: Pick<Configuration, 'data' | 'destinations'> & ProxyPolicy;
  readonly loaded: LoadedPlugins;
  readonly log: LogLine;
  readonly signal: AbortSignal;
  /** Told when a run has ended and is kept. */
  readonly onEnd: (shootId: string, run: GuestRunSummary) => Promise<void>;
}

/** How long, in milliseconds, a destination that could not be given what it lacks is left alone. */
const HEAL_AGAIN_AFTER_MS = 60_000;

/** Looks at shoots, and makes the runs that they want, as many at once as plugins and steps allow. */
export class ShootKeeper {
  readonly #parts: Omit<KeeperParts, 'loaded'>;
  #loaded: LoadedPlugins;
  readonly #line: RunLine<RunWork>;
  readonly #maker: RunMaker;
  readonly #road: RoadWatch;
  readonly #shoots = new Map<string, ShootAtWork>();
  /** By root and shoot: the destinations whose records and the view are at one. */
  readonly #level = new Set<string>();
  #healing: Promise<void> | null = null;
  #healNotBeforeMs = 0;

  constructor({ loaded, ...parts }: KeeperParts) {
    this.#parts = parts;
    this.#loaded = loaded;
    const recorder = new RunRecorder(parts.store, (root, shootId) => this.#level.delete(`${root} ${shootId}`));
    const keepFreeBytes = new Map(parts.configuration.destinations.map((one) => [one.name, one.keepFreeBytes]));
    this.#road = new RoadWatch(parts.store);
    this.#maker = new RunMaker({ ...parts, recorder, road: this.#road, outputs: { keepFreeBytes, log: parts.log } });
    this.#line = new RunLine(
      {
        ofStep: (step) => this.#loaded.steps.find(({ fullName }) => fullName === step)?.limits.parallel ?? 1,
        ofPlugin: (plugin) => this.#loaded.plugins.get(plugin)?.parallel ?? 1,
      },
      (run, leave) => this.#maker.make(run, { loaded: this.#loaded, shoot: this.#shoot(run.shootId), leave }),
    );
    parts.signal.addEventListener('abort', () => this.#line.stop(), { once: true });
  }

  /** Runs that begin from now on are of these plugins; those under way go on. */
  use(loaded: LoadedPlugins): void {
    this.#loaded = loaded;
  }

  /** Begins the runs that a shoot wants now. True when it may want more later without anything else happening first. */
  async look(shoot: Shoot): Promise<boolean> {
    const { store, configuration } = this.#parts;
    const { steps, configs, standings } = this.#loaded;
    const atWork = this.#shoot(shoot.id);
    const rolls = await store.rollsOfShoot(shoot.id);
    const destinations = await knownDestinations(configuration);
    atWork.roots = rootsOf(rolls, destinations);
    await this.#readRuns(shoot.id, atWork);
    await this.#forgetMoved(shoot.id, { atWork, rolls });
    const { subjects, unproven, isGrowing } = await subjectsOfShoot(shoot, rolls, {
      store,
      destinations,
      known: atWork.rolls,
    });
    await this.#letGoOf(unproven, destinations);
    atWork.plans = await planOfClips(store, shoot.id, configuration);
    const clipIds = subjects.flatMap(({ subject }) => (subject.kind === 'clip' ? [subject.id] : []));
    const decided = decideRuns({
      steps,
      subjects: subjects.map(({ subject }) => subject),
      lastRuns: atWork.runs.lastRuns(),
      builtIn: builtInOutputs(atWork.plans, clipIds),
      configs,
      nowMs: Date.now(),
      digest: digestOf,
    });
    const decisions = await this.#holdUp(decided);
    reconcileLine(this.#line, {
      shootId: shoot.id,
      decisions,
      subjects,
      steps: new Set(steps.map(({ fullName }) => fullName)),
      destinations: new Set(destinations.keys()),
      rankOf: (decision) => rankOf(shoot, decision, atWork.plans),
      unproven: new Set(unproven.map(({ id }) => id)),
    });
    this.#line.advance();
    atWork.remember(decisions, subjects);
    const isInLine = (one: (typeof decisions)[number]): boolean =>
      this.#line.get(keyInLine(shoot.id, one))?.state === 'waiting';
    const waits = waitsOfShoot({ shoot, steps, standings, decisions, unproven, isGrowing, isInLine });
    const isShown = await atWork.showWaits(store, shoot.id, waits);
    this.#heal(shoot.id, atWork);
    // While some are under way more is to come, and records are not written for each of ten thousand clips.
    if (!decisions.some(({ verdict }) => verdict === 'run'))
      await store.noteGuestResults(shoot.id, resultsOf(atWork.runs.all()));
    const isWanted = decisions.some(({ verdict }) => verdict === 'run' || verdict === 'wait');
    if (!isWanted && isShown && this.#healing === null && this.#line.of(shoot.id).length === 0)
      this.#shoots.delete(shoot.id);
    return isWanted || !isShown || this.#healing !== null;
  }

  /** Does what a person wants of a run. Returns the shoot to look at, or null when there is no such run. */
  async obey(id: string, order: GuestOrder): Promise<string | null> {
    const { store } = this.#parts;
    const last = [...this.#shoots.values()].flatMap((one) => one.find(id) ?? [])[0];
    const run = last === undefined ? undefined : this.#line.get(keyInLine(last.known.facts.shoot.id, last.decision));
    if (run?.state === 'running') {
      // One that is to be made again runs already.
      if (order === 'cancel') run.stop.abort(new StopReason('cancelled', 'A person stopped it.'));
      if (order === 'skip') run.stop.abort(new StopReason('cancelled', LEFT_OUT));
      return run.shootId;
    }
    const record = (await store.guestRun(id)) ?? (last === undefined ? null : { ...newRecord(last), startedAt: null });
    if (record === null) return null;
    if (order === 'retry') await this.#save({ ...record, state: 'waiting', why: ASKED_FOR, tries: 0, failure: null });
    if (order === 'skip') {
      if (run !== undefined) this.#line.drop(run);
      const fingerprint = last?.decision.fingerprint ?? record.fingerprint;
      await this.#save({ ...record, fingerprint, state: 'cancelled', why: LEFT_OUT, failure: null, findings: [] });
    }
    return record.shootId;
  }

  /** Settles when the runs that are under way when the signal aborts have ended. */
  async close(): Promise<void> {
    await this.#line.settled();
    await this.#healing;
  }

  /** What makes way is not even begun while drives are taken in: it would wait with the rights to read what is being copied. */
  async #holdUp(decisions: readonly RunDecision[]): Promise<readonly RunDecision[]> {
    const isToWait = (one: RunDecision): boolean =>
      one.verdict === 'run' && makesWay(one, this.#loaded.plugins.get(one.step.plugin));
    if (!decisions.some(isToWait) || (await this.#road.isClear())) return decisions;
    const why = 'It waits while drives are being taken in.';
    return decisions.map((one) => (isToWait(one) ? { ...one, verdict: 'wait', why } : one));
  }

  #shoot(shootId: string): ShootAtWork {
    const known = this.#shoots.get(shootId) ?? new ShootAtWork();
    this.#shoots.set(shootId, known);
    return known;
  }

  async #save(record: GuestRunRecord): Promise<void> {
    await this.#parts.store.saveGuestRun(record);
    this.#shoots.get(record.shootId)?.runs.note(record);
  }

  /** The runs of a shoot, once the view and the records at each destination that is there are at one. */
  async #readRuns(shootId: string, atWork: ShootAtWork): Promise<void> {
    const { store } = this.#parts;
    const isLost = await atWork.readRuns(store, shootId);
    const there = new Set([...atWork.roots.values()].map((root) => `${root} ${shootId}`));
    // What was away may have missed something.
    for (const key of this.#level)
      if (key.endsWith(` ${shootId}`) && (isLost || !there.has(key))) this.#level.delete(key);
    const uneven = [...atWork.roots.values()].filter((root) => !this.#level.has(`${root} ${shootId}`));
    for (const root of uneven) {
      this.#level.add(`${root} ${shootId}`);
      await levelRecords(store, root, shootId).catch((error: unknown) => {
        this.#level.delete(`${root} ${shootId}`);
        throw error;
      });
    }
    if (uneven.length > 0) await atWork.readAnew(store, shootId);
  }

  /** Drops the runs on rolls that have moved to another shoot, where they are made anew. What they left stays. */
  async #forgetMoved(
    shootId: string,
    { atWork, rolls }: { readonly atWork: ShootAtWork; readonly rolls: readonly Roll[] },
  ): Promise<void> {
    const { store } = this.#parts;
    const here = new Set(rolls.map(({ id }) => id));
    const strange = atWork.runs.all().filter(({ rollId }) => rollId !== null && !here.has(rollId));
    for (const [rollId, runs] of Map.groupBy(strange, (run) => run.rollId ?? '')) {
      // One that is in no shoot is missing from the view, which is then filled again.
      if (((await store.roll(rollId))?.shootId ?? shootId) === shootId) continue;
      for (const run of runs) atWork.runs.forget(run);
      await store.forgetGuestRuns(
        shootId,
        runs.map(({ id }) => id),
      );
    }
  }

  /** Ends the processes without work that can still read a roll which is no longer proven: copies may be made there again. */
  async #letGoOf(unproven: readonly Roll[], destinations: Roots): Promise<void> {
    for (const roll of unproven) {
      for (const root of destinations.values()) await this.#parts.host.letGoOf(join(root, rollFolder(roll)));
    }
  }

  /** Gives what runs left to the destinations that lack it, one after the other and beside everything else. */
  #heal(shootId: string, atWork: ShootAtWork): void {
    if (this.#healing !== null || performance.now() < this.#healNotBeforeMs || this.#parts.signal.aborted) return;
    const lacking = atWork.runs.all().filter((run) => run.state === 'done' && lackingAt(run, atWork.roots).length > 0);
    if (lacking.length === 0) return;
    this.#healing = (async () => {
      for (const run of lacking) {
        const key = `${shootId} ${run.step} ${run.subject.kind} ${run.subject.id}`;
        if (this.#parts.signal.aborted) return;
        // What it leaves this time is filed everywhere.
        if (this.#line.get(key) !== undefined) continue;
        const isWhole = await this.#maker.heal(run, atWork).catch(() => false);
        if (!isWhole) this.#healNotBeforeMs = performance.now() + HEAL_AGAIN_AFTER_MS;
      }
    })().finally(() => {
      this.#healing = null;
    });
  }
}

const ASKED_FOR = 'A person asked for it again.';
const LEFT_OUT = 'A person left it out.';

/** Runs that follow the plan of proxies come in its order, that of the newest shoot first; others as they come. */
function rankOf(shoot: Shoot, decision: RunDecision, plans: PlanOfClips | null): Rank {
  if (!followsPlan(decision)) return [];
  return [-Date.parse(shoot.openedAt), plans?.of(decision.subject.id).place ?? 0];
}

/** One text for all that the shoot's runs have given; empty while that is nothing. */
function resultsOf(runs: readonly KnownRun[]): string {
  const given = runs.filter(({ state }) => state === 'done').map(({ id, last }) => `${id} ${last?.endedAtMs}`);
  return given.length === 0 ? '' : digestOf(given.toSorted()).slice(0, 16);
}

/** The roots of the destinations that are there and take in any of the rolls. */
function rootsOf(rolls: readonly Roll[], destinations: Roots): Roots {
  const names = new Set(rolls.flatMap((roll) => Object.keys(roll.destinations)));
  return new Map([...destinations].filter(([name]) => names.has(name)));
}
