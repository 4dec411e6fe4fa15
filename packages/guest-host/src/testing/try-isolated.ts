import { cp, mkdir, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { type Grant, QuaysideError, type RunLog, StepLimits } from '@quayside/shoot';
import {
  fullNameOf,
  type Dependency,
  type OutputSchema,
  type Step,
  type StepProgress,
  type StepScope,
} from '@quayside/step-sdk';
import { layTrial, type Trial, TrialError, type TrialOutcome } from '@quayside/step-sdk/testing';
import type { StandardSchemaV1 } from '@standard-schema/spec';
import { createGuestHost, type GuestHost } from '../create-guest-host.ts';
import { findPlugin } from '../plugin-source/find-plugin.ts';
import type { GuestOutcome } from '../run/guest-run.ts';

/** What a step is tried on, and the plugin that registers it. */
export type IsolatedTrial<
  Scope extends StepScope,
  Config extends StandardSchemaV1,
  After extends readonly Dependency[],
  Secret extends string,
> = Trial<Scope, Config, After, Secret> & {
  /** The absolute path of the plugin's file, or of its package's folder. */
  readonly plugin: string;
  /** What the operator granted; by default all that the step asks for. */
  readonly grants?: readonly Grant[];
};

/**
 * Runs a step once on copies of real clips as the service does: in a process of its own rights, which can read the copies and
 * the plugin, write its two folders, and nothing else. Use it with `await using`.
 * @throws QuaysideError with the failure as an operator is told it: the step's own, or what it was stopped for
 * @throws TrialError when the step is nobody's, or changed a copy
 */
export async function tryIsolated<
  Name extends string,
  Scope extends StepScope,
  Config extends StandardSchemaV1,
  Output extends OutputSchema,
  After extends readonly Dependency[],
  Secret extends string,
>(
  step: Step<Name, Scope, Config, Output, After, Secret>,
  trial: IsolatedTrial<Scope, Config, After, Secret>,
): Promise<TrialOutcome<Output>> {
  const home = await mkdtemp(join(tmpdir(), 'step-trial-'));
  const dispose = (): Promise<void> => rm(home, { recursive: true, force: true });
  let host: GuestHost | null = null;
  try {
    host = await createGuestHost({ workFolder: join(home, 'work') });
    const ran = await runOnce(host, { step, trial, home });
    // The host checked it with the step's own schema.
    return {
      ...ran,
      output: ran.output as StandardSchemaV1.InferOutput<Output> | null,
      [Symbol.asyncDispose]: dispose,
    };
  } catch (error) {
    await dispose();
    throw error;
  } finally {
    await host?.close();
  }
}

interface Ground {
  readonly step: Step;
  readonly trial: Omit<Trial<StepScope, StandardSchemaV1, readonly Dependency[], string>, 'outputs'> & {
    readonly outputs?: Readonly<Record<string, unknown>>;
    readonly plugin: string;
    readonly grants?: readonly Grant[];
  };
  readonly home: string;
}

async function runOnce(
  host: GuestHost,
  { step, trial, home }: Ground,
): Promise<Omit<TrialOutcome<OutputSchema>, typeof Symbol.asyncDispose>> {
  const [plugin] = fullNameOf(step)?.split('/') ?? [];
  if (plugin === undefined) throw new TrialError(`No plugin registers the step "${step.name}": import its plugin too.`);
  const source = await findPlugin(trial.plugin, dirname(trial.plugin));
  await host.describe(source, { [step.name]: trial.config ?? {} });
  const laid = await layTrial(step.scope, trial, join(home, 'copies'));
  const folder = join(home, 'output');
  await mkdir(folder);
  const progress: StepProgress[] = [];
  const files: string[] = [];
  const outcome = await host.run(
    {
      source,
      plugin,
      step: step.name,
      subject: laid.subject,
      clipPaths: laid.clipPaths,
      rollFolders: laid.rollFolders,
      config: trial.config ?? {},
      outputs: outputsInFull(step, trial.outputs ?? {}),
      grants: trial.grants ?? step.asks ?? [],
      secrets: trial.secrets ?? {},
      limits: StepLimits.parse(step.limits ?? {}),
    },
    {
      signal: trial.signal ?? new AbortController().signal,
      onProgress: (moment) => void progress.push(moment),
      takeFiles: async (left) => {
        files.push(...left.files.map(({ path }) => path).toSorted());
        await cp(left.folder, folder, { recursive: true });
      },
    },
  );
  await laid.throwIfChanged();
  return { ...resultOf(outcome), log: linesOf(outcome.log), progress, folder, files };
}

function resultOf(outcome: GuestOutcome): Pick<TrialOutcome<OutputSchema>, 'skipped' | 'output' | 'findings'> {
  switch (outcome.state) {
    case 'failed':
      throw new QuaysideError(outcome.failure);
    case 'cancelled':
      throw new TrialError('The run was cancelled.');
    case 'skipped':
      return { skipped: outcome.why, output: null, findings: [] };
    case 'done':
      return { skipped: null, output: outcome.output, findings: outcome.findings.map((one) => asReported(one)) };
  }
}

type DoneOutcome = Extract<GuestOutcome, { state: 'done' }>;

/** As the step reported it: without the plugin's name, which the host sets before its code. */
function asReported({
  code,
  severity,
  subject,
  why,
  remedy,
}: DoneOutcome['findings'][number]): TrialOutcome<OutputSchema>['findings'][number] {
  const { kind, id } = subject;
  const about = kind === 'clip' || kind === 'roll' || kind === 'shoot' ? { subject: { kind, id } } : {};
  return { code: code.slice(code.indexOf('/') + 1), severity, ...about, sentence: why, remedy };
}

function linesOf({ head, tail }: RunLog): TrialOutcome<OutputSchema>['log'] {
  return [...head, ...tail].flatMap(({ level, text }) => (level === 'out' ? [] : [{ level, sentence: text }]));
}

/** The host is told outputs by full names; a test gives those of step objects under the step's own name, as it gets them. */
function outputsInFull(
  { after = [] }: Step,
  outputs: Readonly<Record<string, unknown>>,
): Readonly<Record<string, unknown>> {
  const named = after.map((before) =>
    typeof before === 'string' ? [before, outputs[before]] : [fullNameOf(before) ?? before.name, outputs[before.name]],
  );
  return Object.fromEntries(named.filter(([, output]) => output !== undefined));
}
