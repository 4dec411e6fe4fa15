import { mkdir, mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { ShootSubject } from '@quayside/shoot';
import type { StandardSchemaV1 } from '@standard-schema/spec';
import type { Dependency, OutputsOf } from '../dependency.ts';
import type { StepRun, ReportedFinding, StepProgress } from '../step-run.ts';
import type { StepScope, Subjects } from '../step-scope.ts';
import type { OutputSchema, Step } from '../step.ts';
import { collectFindings } from './collect-findings.ts';
import { copiesOf } from './copies-of.ts';
import type { TrialClip } from './lay-copies.ts';
import { layTrial } from './lay-trial.ts';
import { parseWithSchema, throwUnlessJson } from './parse-with-schema.ts';

/** What a step is tried on. */
export interface Trial<
  Scope extends StepScope,
  Config extends StandardSchemaV1,
  After extends readonly Dependency[],
  Secret extends string,
> {
  /** For scope `clip` exactly one; for `roll` those of one recorder. */
  readonly clips: readonly TrialClip[];
  readonly config?: StandardSchemaV1.InferInput<Config>;
  /** What the steps that it comes after would have given. */
  readonly outputs?: OutputsOf<Scope, After>;
  readonly secrets?: Readonly<Record<Secret, string>>;
  /** What ran together, for scope `shoot`; by default all clips. */
  readonly groups?: ShootSubject['groups'];
  /** Aborts the run, as an operator's cancelling does. */
  readonly signal?: AbortSignal;
}

export interface LogLine {
  readonly level: 'info' | 'warn' | 'error';
  readonly sentence: string;
}

/** What came of it. The folder is there until it is disposed of. */
export interface TrialOutcome<Output extends OutputSchema> extends AsyncDisposable {
  /** Why `when` said that there is nothing to do; null when the step ran. */
  readonly skipped: string | null;
  /** What it gave, as its schema made it; null when it was skipped. */
  readonly output: StandardSchemaV1.InferOutput<Output> | null;
  readonly findings: readonly ReportedFinding[];
  readonly log: readonly LogLine[];
  readonly progress: readonly StepProgress[];
  /** The output folder, and the paths in it of the files that the step left. */
  readonly folder: string;
  readonly files: readonly string[];
}

/**
 * Runs a step once on copies of real clips, in this process: with no service, no Redis, and no fence around it. Configuration,
 * output and findings are checked as a host checks them. Use it with `await using`.
 * @throws TrialError when the step breaks the contract; whatever the step throws
 */
export async function tryStep<
  Name extends string,
  Scope extends StepScope,
  Config extends StandardSchemaV1,
  Output extends OutputSchema,
  After extends readonly Dependency[],
  Secret extends string,
>(
  step: Step<Name, Scope, Config, Output, After, Secret>,
  trial: Trial<Scope, Config, After, Secret>,
): Promise<TrialOutcome<Output>> {
  const home = await mkdtemp(join(tmpdir(), 'step-trial-'));
  const dispose = (): Promise<void> => rm(home, { recursive: true, force: true });
  try {
    return { ...(await runOnce(step, trial, home)), [Symbol.asyncDispose]: dispose };
  } catch (error) {
    await dispose();
    throw error;
  }
}

async function runOnce<
  Scope extends StepScope,
  Config extends StandardSchemaV1,
  Output extends OutputSchema,
  After extends readonly Dependency[],
  Secret extends string,
>(
  step: Step<string, Scope, Config, Output, After, Secret>,
  trial: Trial<Scope, Config, After, Secret>,
  home: string,
): Promise<Omit<TrialOutcome<Output>, typeof Symbol.asyncDispose>> {
  const [scratchFolder, outputFolder] = [join(home, 'scratch'), join(home, 'output')];
  for (const folder of [scratchFolder, outputFolder]) await mkdir(folder);
  const config = await parseWithSchema(step.config, trial.config ?? {}, 'The configuration');
  const laid = await layTrial(step.scope, trial, join(home, 'copies'));
  // The scope says which of the three it is, which the compiler cannot follow.
  const subject = laid.subject as Subjects[Scope];
  const [report, log, progress] = [collectFindings(), [] as LogLine[], [] as StepProgress[]];
  const { findings } = report;
  const told = { findings, log, progress, folder: outputFolder };

  const answer = (await step.when?.({ subject, config })) ?? true;
  if (answer !== true)
    return { ...told, skipped: answer === false ? 'The step does not apply to it.' : answer, output: null, files: [] };

  const run = {
    subject,
    config,
    outputs: trial.outputs ?? {},
    copies: copiesOf(laid),
    scratchFolder,
    outputFolder,
    log: {
      info: (sentence: string) => void log.push({ level: 'info', sentence }),
      warn: (sentence: string) => void log.push({ level: 'warn', sentence }),
      error: (sentence: string) => void log.push({ level: 'error', sentence }),
    },
    progress: (moment: StepProgress) => void progress.push(moment),
    secrets: trial.secrets ?? {},
    signal: trial.signal ?? new AbortController().signal,
    report,
  };
  run.signal.throwIfAborted();
  // `outputs` and `secrets` may be missing in a trial of a step that does not look at them.
  const given = await step.run(run as unknown as StepRun<Scope, Config, After, Secret>);
  const output = await outputOf(step.output, given);
  await laid.throwIfChanged();
  return { ...told, skipped: null, output, files: await filesBelow(outputFolder) };
}

async function outputOf<Output extends OutputSchema>(
  schema: Output | undefined,
  given: unknown,
): Promise<StandardSchemaV1.InferOutput<Output> | null> {
  const output = (await parseWithSchema(schema, given, 'What the step gave')) ?? null;
  throwUnlessJson(output, 'output');
  return output;
}

async function filesBelow(folder: string): Promise<readonly string[]> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  const paths = entries.filter((entry) => entry.isFile()).map((entry) => join(entry.parentPath, entry.name));
  return paths.map((path) => path.slice(folder.length + 1)).toSorted();
}
