import type { GuestHost, GuestOutcome } from '@quayside/guest-host';
import type { Store } from '@quayside/job-queue';
import { keyOfRun, PROXY_STEP, type RunDecision } from '@quayside/pipeline';
import { failureOf, type Failure, type GuestRunRecord } from '@quayside/shoot';
import { digestOf, type LoadedPlugin } from '../plugins/load-plugins.ts';
import { fileOutput } from '../records/file-output.ts';
import { outputPlace, recordPlace, type Placed } from '../records/run-places.ts';
import { writeRunRecord } from '../records/run-records.ts';
import type { KnownSubject } from '../subjects/subjects-of-shoot.ts';

export interface RunParts {
  readonly store: Store;
  readonly host: GuestHost;
  readonly signal: AbortSignal;
}

/** A run that is wanted. */
export interface WantedRun {
  readonly decision: RunDecision;
  readonly known: KnownSubject;
  readonly loaded: LoadedPlugin;
  /** By the full names of the steps that it comes after. */
  readonly outputs: Readonly<Record<string, unknown>>;
}

/** Names a run for everybody outside: one for each step and subject. */
export function idOfRun(step: string, subject: RunDecision['subject']): string {
  return digestOf(keyOfRun(step, subject)).slice(0, 16);
}

/** Makes one run, files what it left beside the footage, and keeps what became of it. A run that the service's end stops is no run. */
export async function makeRun(
  { store, host, signal }: RunParts,
  wanted: WantedRun,
  stop: AbortSignal,
): Promise<GuestRunRecord | null> {
  const { decision, known, loaded, outputs } = wanted;
  const { step } = decision;
  const place = placeOf(wanted);
  const begun = newRecord(wanted);
  await store.saveGuestRun(begun);
  const startedMs = performance.now();
  let files: GuestRunRecord['files'] = [];
  const outcome = await host.run(
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
      signal: AbortSignal.any([signal, stop]),
      takeFiles: async (left) => {
        if (left.files.length > 0) await fileOutput(known.destination.root, outputPlace(place), left);
        files = [...left.files];
      },
    },
  );
  if (outcome.state === 'cancelled' && signal.aborted) return null;
  const ended: GuestRunRecord = {
    ...begun,
    ...partOf(outcome),
    files,
    filed: files.length === 0 ? null : { destination: known.destination.name, folder: outputPlace(place) },
    log: outcome.log,
    endedAt: new Date().toISOString(),
    tookMs: Math.round(performance.now() - startedMs),
  };
  const kept = await onRecord(known.destination.root, recordPlace(place), ended);
  await store.saveGuestRun(kept);
  // The shoot's records name proxies beside their originals.
  if (kept.step === PROXY_STEP && kept.filed !== null) await store.noteProxyFiled(kept.shootId);
  return kept;
}

function placeOf({ decision: { step, subject }, known }: WantedRun): Placed {
  return { shootId: known.facts.shoot.id, plugin: step.plugin, step: step.name, subject };
}

function newRecord({ decision, known }: WantedRun): GuestRunRecord {
  const { step, subject, fingerprint, why, tries } = decision;
  return {
    id: idOfRun(step.fullName, subject),
    step: step.fullName,
    version: step.version,
    subject: { kind: subject.kind, id: subject.id },
    shootId: known.facts.shoot.id,
    rollId: subject.rollId,
    state: 'running',
    why,
    fingerprint,
    tries: tries + 1,
    failure: null,
    outputDigest: '',
    findings: [],
    filed: null,
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
      return { state: 'cancelled', failure: null, why: 'A person stopped it.' };
  }
}

/** A run whose record cannot be written has failed: without it, it would be made again whenever the view is lost. */
async function onRecord(root: string, place: string, record: GuestRunRecord): Promise<GuestRunRecord> {
  if (record.state !== 'done' && record.state !== 'skipped') return record;
  try {
    await writeRunRecord(root, place, record);
    return record;
  } catch (error) {
    const failure: Failure = { ...failureOf(error), retry: 'later' };
    return { ...record, state: 'failed', failure };
  }
}
