import type { GuestHost } from '@quayside/guest-host';
import type { Store } from '@quayside/job-queue';
import { PROXY_STEP } from '@quayside/pipeline';
import type { LogLine } from '@quayside/service-process';
import { failureOf, type GuestRunRecord, type GuestRunSummary } from '@quayside/shoot';
import type { LoadedPlugins } from '../plugins/load-plugins.ts';
import { fileAtAll, fileWhereLacking, lackingAt, type OutputParts } from '../records/output-keeper.ts';
import { outputPlace } from '../records/run-places.ts';
import type { Roots, RunRecorder } from '../records/run-recorder.ts';
import { followsPlan, planOfClips, PLANNING, type ProxyPolicy } from '../subjects/plan-of-clips.ts';
import type { KnownRun } from './known-runs.ts';
import { makeRun } from './make-run.ts';
import { outputsBefore } from './outputs-before.ts';
import type { RunWork } from './reconcile-line.ts';
import { makesWay, type RoadWatch } from './road-watch.ts';
import type { LinedUp } from './run-line.ts';
import type { ShootAtWork } from './shoot-at-work.ts';

export interface MakerParts {
  readonly store: Store;
  readonly host: GuestHost;
  readonly recorder: RunRecorder;
  readonly outputs: OutputParts;
  readonly configuration: ProxyPolicy;
  readonly road: RoadWatch;
  readonly log: LogLine;
  readonly signal: AbortSignal;
  /** Told when a run has ended and is kept. */
  readonly onEnd: (shootId: string, run: GuestRunSummary) => Promise<void>;
}

/** Makes the runs whose turn has come, and keeps what became of them. */
export class RunMaker {
  readonly #parts: MakerParts;
  /** Of runs whose files are being given to destinations that lack them, by their ids. */
  readonly #healing = new Map<string, Promise<void>>();

  constructor(parts: MakerParts) {
    this.#parts = parts;
  }

  /** Makes a run; `leave` is called as soon as the next one may begin. Never rejects. */
  async make(
    run: LinedUp<RunWork>,
    {
      loaded,
      shoot,
      leave,
    }: { readonly loaded: LoadedPlugins; readonly shoot: ShootAtWork; readonly leave: () => void },
  ): Promise<void> {
    const { log, onEnd } = this.#parts;
    try {
      const record = await this.#record(run, loaded, shoot);
      if (record === null) return;
      await this.#parts.recorder.room();
      leave();
      await onEnd(run.shootId, await this.#keep(record, shoot));
    } catch (error) {
      // Redis that is away, say: the next look begins it again.
      log(failureOf(error).sentence, { step: run.step });
    }
  }

  /** Gives what a run left to the destinations that lack it. False when some still do. */
  async heal({ id }: KnownRun, shoot: ShootAtWork): Promise<boolean> {
    const { store, outputs } = this.#parts;
    const { promise, resolve } = Promise.withResolvers<void>();
    this.#healing.set(id, promise);
    try {
      const record = await store.guestRun(id);
      if (record === null) return false;
      const healed = await fileWhereLacking(record, shoot.roots, outputs);
      if (healed !== null) await this.#keep(healed, shoot);
      return lackingAt(healed ?? record, shoot.roots).length === 0;
    } finally {
      this.#healing.delete(id);
      resolve();
    }
  }

  /** Keeps a run and remembers it. */
  async #keep(record: GuestRunRecord, shoot: ShootAtWork): Promise<GuestRunRecord> {
    const kept = await this.#parts.recorder.keep(record, shoot.roots);
    shoot.runs.note(kept);
    // The shoot's records name proxies beside their originals.
    if (kept.step === PROXY_STEP && kept.filed !== null) await this.#parts.store.noteProxyFiled(kept.shootId);
    return kept;
  }

  async #record(
    { step: name, plugin: pluginName, stop, work }: LinedUp<RunWork>,
    { plugins, steps }: LoadedPlugins,
    shoot: ShootAtWork,
  ): Promise<GuestRunRecord | null> {
    const { store, host, outputs, road, signal, log } = this.#parts;
    const { decision, known } = work;
    const plugin = plugins.get(pluginName);
    if (plugin === undefined || signal.aborted) return null;
    const shootId = known.facts.shoot.id;
    const before: Record<string, unknown> = {
      ...(await outputsBefore(store, { step: decision.step, subject: decision.subject, runs: shoot.runs, steps })),
    };
    if (followsPlan(decision)) {
      const { given, plan } = (await planOfClips(store, shootId, this.#parts.configuration)).of(decision.subject.id);
      // It may have waited for hours, and the plan be another one by now; then it is decided on anew.
      if (given.verdict !== 'run' || given.state !== shoot.plans?.of(decision.subject.id).given.state) return null;
      before[PLANNING] = plan;
    }
    const isMakingWay = makesWay(decision, plugin);
    if (isMakingWay && !(await road.isClear())) return null;
    if (isMakingWay) road.enter();
    const place = outputPlace({ shootId, plugin: pluginName, step: decision.step.name, subject: decision.subject });
    let isOver = false;
    const record = await makeRun(
      { decision, known, loaded: plugin, outputs: before, pause: isMakingWay ? road.pause : null },
      {
        host,
        stop: stop.signal,
        file: async (left) => {
          await this.#healing.get(idIn(shoot, decision));
          return fileAtAll(left, { place, roots: ownFirst(known.destination, shoot.roots) }, outputs);
        },
        show: (running) => {
          if (isOver) return;
          store.saveGuestRun(running).catch((error: unknown) => log(failureOf(error).sentence, { step: name }));
        },
      },
    ).finally(() => {
      if (isMakingWay) road.leave();
    });
    isOver = true;
    return record;
  }
}

function idIn({ runs }: ShootAtWork, { step, subject }: RunWork['decision']): string {
  return runs.get(step.fullName, subject)?.id ?? '';
}

function ownFirst({ name, root }: { readonly name: string; readonly root: string }, roots: Roots): Roots {
  return new Map([[name, root], ...roots]);
}
