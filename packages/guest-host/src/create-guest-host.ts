import { randomUUID } from 'node:crypto';
import { mkdir, realpath, rm } from 'node:fs/promises';
import { failureOf, type Finding, type StepSubject } from '@quayside/shoot';
import type { GuestFinding } from './channel/message-from-guest.ts';
import type { RunMessage } from './channel/message-to-guest.ts';
import { type Described, describeInGuest } from './describe-in-guest.ts';
import { GuestPool } from './guest-pool.ts';
import type { PluginSource } from './plugin-source/find-plugin.ts';
import { BoundedLog } from './run/bounded-log.ts';
import { outputRefused } from './run/failures-of-guests.ts';
import type { GuestOutcome, GuestRun, RunControls } from './run/guest-run.ts';
import type { GuestRights } from './run/guest-rights.ts';
import { outputFilesIn } from './run/output-files.ts';
import { clearFolders, foldersFor, type RunFolders } from './run/run-folders.ts';
import { type Ended, runInGuest } from './run/run-in-guest.ts';

export interface GuestHostOptions {
  /** A folder of the host's own, for what guests write. It is emptied at the start and at the end. */
  readonly workFolder: string;
  /** How long, in milliseconds, a step may take to stop; 5000 by default. */
  readonly graceMs?: number;
  /** After how long, in milliseconds, a process without work is ended; 30,000 by default. */
  readonly idleMs?: number;
}

/** Runs guests' steps, each in a process of its own rights. As many at once as are asked for. */
export interface GuestHost {
  /**
   * Loads a plugin in a process without any rights but reading itself, and says what it is.
   * @throws QuaysideError `PLUGIN_BROKEN`, `PLUGIN_API_VERSION`, `PLUGIN_INVALID` or `PLUGIN_BAD_CONFIG`, naming the plugin
   */
  describe(source: PluginSource, config: unknown): Promise<Described>;
  /** Makes one run. Never throws for anything that a plugin does. */
  run(run: GuestRun, controls: RunControls): Promise<GuestOutcome>;
  /** Ends the processes that may read below a folder and have no work: what lies there is about to change. */
  letGoOf(folder: string): Promise<void>;
  /** Ends all processes, at once. */
  close(): Promise<void>;
}

export async function createGuestHost({
  workFolder,
  graceMs = 5000,
  idleMs = 30_000,
}: GuestHostOptions): Promise<GuestHost> {
  await rm(workFolder, { recursive: true, force: true });
  await mkdir(workFolder, { recursive: true, mode: 0o700 });
  const pool = new GuestPool({ workFolder: await realpath(workFolder), idleMs });
  return {
    describe: (source, config) => describeInGuest(pool, source, config),
    run: (run, controls) => makeRun(pool, run, { ...controls, graceMs }),
    letGoOf: (folder) => pool.letGoOf(folder),
    async close() {
      await pool.close();
      await rm(workFolder, { recursive: true, force: true });
    },
  };
}

async function makeRun(
  pool: GuestPool,
  run: GuestRun,
  options: RunControls & { readonly graceMs: number },
): Promise<GuestOutcome> {
  const log = new BoundedLog();
  let heldUpMs = 0;
  try {
    if (options.signal.aborted) return { state: 'cancelled', log: log.kept(), heldUpMs };
    const guest = await pool.take(rightsFor(run), run);
    let isAtRest = false;
    try {
      const folders = foldersFor(guest);
      const ended = await runInGuest(guest, run, {
        message: messageFor(run, folders),
        options: { log, ...options, onProgress: options.onProgress ?? (() => undefined) },
      });
      heldUpMs = ended.heldUpMs;
      const outcome = await take(run, ended, { outputFolder: folders.outputFolder, takeFiles: options.takeFiles });
      // The folder of a process that is ended goes with it.
      if (ended.isAtRest) await clearFolders(guest, folders);
      isAtRest = ended.isAtRest;
      return { ...outcome, log: log.kept(), heldUpMs };
    } finally {
      await pool.giveBack(guest, isAtRest);
    }
  } catch (error) {
    return { state: 'failed', failure: failureOf(error), log: log.kept(), heldUpMs };
  }
}

function rightsFor({ source, rollFolders, grants, limits }: GuestRun): GuestRights {
  const { memoryMb, programsMb, outputMb } = limits;
  return { source, copyFolders: Object.values(rollFolders), grants, memoryMb, programsMb, outputMb };
}

function messageFor(run: GuestRun, { scratchFolder, outputFolder }: RunFolders): RunMessage {
  const { step, subject, config, outputs, clipPaths, rollFolders, secrets } = run;
  const about = { subject, config, outputs, clipPaths, rollFolders, secrets };
  return { type: 'run', run: randomUUID(), step, ...about, scratchFolder, outputFolder };
}

type Taken = GuestOutcome extends infer Outcome
  ? Outcome extends unknown
    ? Omit<Outcome, 'log' | 'heldUpMs'>
    : never
  : never;

async function take(
  run: GuestRun,
  ended: Ended,
  { outputFolder, takeFiles }: { readonly outputFolder: string; readonly takeFiles: RunControls['takeFiles'] },
): Promise<Taken> {
  switch (ended.state) {
    case 'skipped':
      return { state: 'skipped', why: ended.why };
    case 'failed':
      return { state: 'failed', failure: ended.failure };
    case 'cancelled':
      return { state: 'cancelled' };
    case 'done': {
      const found = await outputFilesIn(outputFolder, run.limits.outputMb);
      if (found.refused !== null) return { state: 'failed', failure: outputRefused(run, found.refused) };
      await takeFiles?.({ folder: outputFolder, files: found.files });
      const at = new Date().toISOString();
      return { state: 'done', output: ended.output, findings: ended.findings.map((one) => findingOf(run, one, at)) };
    }
  }
}

function findingOf(
  { plugin, subject }: GuestRun,
  { code, severity, subject: about, sentence, remedy }: GuestFinding,
  at: string,
): Finding {
  return { code: `${plugin}/${code}`, severity, subject: about ?? subjectOf(subject), why: sentence, remedy, at };
}

function subjectOf(subject: StepSubject): Finding['subject'] {
  if (subject.kind === 'clip') return { kind: 'clip', id: subject.clip.id };
  return subject.kind === 'roll' ? { kind: 'roll', id: subject.roll.id } : { kind: 'shoot', id: subject.shoot.id };
}
