import type { Severity } from '@quayside/shoot';
import type { StandardSchemaV1 } from '@standard-schema/spec';
import type { StopSignal } from './built-in/step.ts';
import type { Dependency, OutputsOf } from './dependency.ts';
import type { StepScope, Subjects } from './step-scope.ts';

/** All that a run is given. Nothing of it is valid after `run` has settled. */
export interface StepRun<
  Scope extends StepScope,
  Config extends StandardSchemaV1,
  After extends readonly Dependency[],
  Secret extends string,
> {
  /** The facts of the clip, roll or shoot. */
  readonly subject: Subjects[Scope];
  /** The operator's configuration of this step, as its schema gave it. */
  readonly config: StandardSchemaV1.InferOutput<Config>;
  /** What the steps that it comes after gave. */
  readonly outputs: OutputsOf<Scope, After>;
  /** Where the subject's verified copies lie. They can be read and not written. */
  readonly copies: Copies;
  /** An empty folder to work in. It is gone when the run is over. */
  readonly scratchFolder: string;
  /** An empty folder. What lies in it when the run is done is filed in the shoot's records, under plugin, step and subject. */
  readonly outputFolder: string;
  /** The run's log; each line is kept with the run, as far as its limit goes. */
  readonly log: RunLog;
  /** Call it as often as you like, it is thinned out. */
  readonly progress: (progress: StepProgress) => void;
  /** The secrets that the step names and the operator set. Never log them. */
  readonly secrets: Readonly<Record<Secret, string>>;
  /** Aborted when the run should stop. Stop soon: after a grace time the process is killed. */
  readonly signal: RunSignal;
  readonly report: Report;
}

export interface Copies {
  /** The absolute path of a clip's verified copy. @throws Error when the clip is not of this subject */
  of(clip: { readonly id: string }): string;
  /** The absolute path of the folder that holds a roll's verified copies. @throws Error when the roll is not of this subject */
  folderOf(roll: { readonly id: string }): string;
}

export interface RunLog {
  info(sentence: string): void;
  warn(sentence: string): void;
  error(sentence: string): void;
}

export interface StepProgress {
  /** From 0 to 1. */
  readonly fraction: number;
  readonly text?: string;
  readonly secondsLeft?: number;
}

export interface Report {
  /** Tells people something. The findings of a subject's last run are the ones that stand. */
  finding(finding: ReportedFinding): void;
}

export interface ReportedFinding {
  /** The plugin's own code, in capitals: `SILENT`. It is shown as `<plugin>/SILENT`. */
  readonly code: string;
  readonly severity: Severity;
  /** A part of the run's subject; without it, the subject itself. */
  readonly subject?: { readonly kind: StepScope; readonly id: string };
  /** What, where and why, in one sentence. */
  readonly sentence: string;
  /** What to do about it, in one sentence. */
  readonly remedy: string;
}

/** The platform's `AbortSignal`, where the program that is compiled knows one. */
export type RunSignal = typeof globalThis extends { AbortSignal: { prototype: infer Signal } } ? Signal : StopSignal;
