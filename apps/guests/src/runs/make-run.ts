import type { GuestHost, GuestOutcome, OutputFiles, PauseSwitch } from '@quayside/guest-host';
import { keyOfRun, type RunDecision } from '@quayside/pipeline';
import type { GuestRunRecord } from '@quayside/shoot';
import { digestOf, type LoadedPlugin } from '../plugins/load-plugins.ts';
import type { KnownSubject } from '../subjects/subjects-of-shoot.ts';
import { StopReason } from './stop-reason.ts';

/** A run that is wanted. */
export interface WantedRun {
  readonly decision: RunDecision;
  readonly known: KnownSubject;
  readonly loaded: LoadedPlugin;
  /** By the full names of the steps that it comes after. */
  readonly outputs: Readonly<Record<string, unknown>>;
  /** Holds it up while drives are being taken in; null when it makes no way. */
  readonly pause: PauseSwitch | null;
}

export interface RunSurroundings {
  readonly host: GuestHost;
  /** Ends the run; by a `StopReason` that says how it stands then. */
  readonly stop: AbortSignal;
  /** Files what the run left. */
  readonly file: (left: OutputFiles) => Promise<Pick<GuestRunRecord, 'filed' | 'files'>>;
  /** Shows the run while it is under way. */
  readonly show: (running: GuestRunRecord) => void;
}

/** Names a run for everybody outside: one for each step and subject of a shoot. */
export function idOfRun(shootId: string, step: string, subject: Pick<RunDecision['subject'], 'kind' | 'id'>): string {
  return digestOf([shootId, keyOfRun(step, subject)]).slice(0, 16);
}

/** Makes one run and says what became of it, for whoever keeps it. Null when it was stopped for no reason of its own. */
export async function makeRun(
  wanted: WantedRun,
  { host, stop, file, show }: RunSurroundings,
): Promise<GuestRunRecord | null> {
  const { decision, known, loaded, outputs, pause } = wanted;
  const { step } = decision;
  let begun: GuestRunRecord = { ...newRecord(wanted), state: 'running', tries: decision.tries + 1 };
  const startedMs = performance.now();
  // Most short ones are over before anybody could see them: only what lasts is worth an entry in the view.
  const shown = setTimeout(() => show(begun), SHOWN_AFTER_MS);
  let shownMs = startedMs;
  const unwatch = pause?.watch((isHeldUp) => {
    const { fraction, text, secondsLeft } = begun.progress ?? { fraction: 0, text: null, secondsLeft: null };
    begun = { ...begun, progress: { fraction, text, secondsLeft, isHeldUp } };
    show(begun);
  });
  let filed: Pick<GuestRunRecord, 'filed' | 'files'> = { filed: null, files: [] };
  const outcome = await host
    .run(
      {
        source: loaded.source,
        plugin: step.plugin,
        step: step.name,
        subject: known.facts,
        config: loaded.config[step.name] ?? {},
        outputs,
        clipPaths: known.clipPaths,
        rollFolders: known.rollFolders,
        grants: step.asks,
        secrets: Object.fromEntries(step.secrets.map((name) => [name, loaded.secrets[name] ?? ''])),
        limits: step.limits,
      },
      {
        signal: stop,
        ...(pause === null ? {} : { pause }),
        onProgress: ({ fraction, text = null, secondsLeft = null }) => {
          const isHeldUp = pause === null ? {} : { isHeldUp: pause.isOn };
          begun = { ...begun, progress: { fraction, text, secondsLeft, ...isHeldUp } };
          const now = performance.now();
          if (now - startedMs < SHOWN_AFTER_MS || now - shownMs < SHOWN_EVERY_MS) return;
          shownMs = now;
          show(begun);
        },
        takeFiles: async (left) => {
          if (left.files.length > 0) filed = await file(left);
        },
      },
    )
    .finally(() => {
      clearTimeout(shown);
      unwatch?.();
    });
  const reason: unknown = stop.reason;
  if (outcome.state === 'cancelled' && !(reason instanceof StopReason)) return null;
  return {
    ...begun,
    ...partOf(outcome),
    // What was stopped in favour of a later run is no try.
    ...(outcome.state === 'cancelled' && reason instanceof StopReason
      ? { state: reason.state, why: reason.why, tries: decision.tries }
      : {}),
    ...filed,
    progress: null,
    log: outcome.log,
    endedAt: new Date().toISOString(),
    tookMs: Math.round(performance.now() - startedMs),
  };
}

const SHOWN_AFTER_MS = 250;
const SHOWN_EVERY_MS = 1000;

/** The record of a run that has not begun. */
export function newRecord({ decision, known }: Pick<WantedRun, 'decision' | 'known'>): GuestRunRecord {
  const { step, subject, fingerprint, why, tries } = decision;
  return {
    id: idOfRun(known.facts.shoot.id, step.fullName, subject),
    step: step.fullName,
    version: step.version,
    subject: { kind: subject.kind, id: subject.id },
    shootId: known.facts.shoot.id,
    rollId: subject.rollId,
    state: 'waiting',
    why,
    fingerprint,
    tries,
    failure: null,
    outputDigest: '',
    findings: [],
    filed: null,
    progress: null,
    startedAt: new Date().toISOString(),
    endedAt: null,
    tookMs: null,
    output: null,
    files: [],
    log: { head: [], droppedLines: 0, tail: [] },
  };
}

type Part = Pick<GuestRunRecord, 'state' | 'failure'> & Partial<GuestRunRecord>;

function partOf(outcome: GuestOutcome): Part {
  switch (outcome.state) {
    case 'done':
      return {
        state: 'done',
        failure: null,
        // It has come as JSON; the schema's type of that is not read-only.
        output: outcome.output as GuestRunRecord['output'],
        outputDigest: digestOf([outcome.output]),
        findings: [...outcome.findings],
      };
    case 'skipped':
      return { state: 'skipped', failure: null, why: outcome.why };
    case 'failed':
      return { state: 'failed', failure: outcome.failure };
    case 'cancelled':
      return { state: 'cancelled', failure: null };
  }
}
