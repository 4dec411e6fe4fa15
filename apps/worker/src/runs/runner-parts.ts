import type { Configuration } from '@quayside/configuration';
import type { RunQueue, Store } from '@quayside/job-queue';
import type { Mount, RunRequest } from '@quayside/shoot';
import type { Capabilities, Step } from '@quayside/step-sdk/built-in';
import type { ProgressMeter } from '../upkeep/progress-meter.ts';

/** What runs are made with. */
export interface RunnerParts {
  readonly store: Store;
  readonly queue: RunQueue;
  readonly configuration: Configuration;
  readonly steps: ReadonlyMap<string, Step>;
  readonly configOf: (step: string) => unknown;
  readonly capabilities: Capabilities;
  /** Whether anything on a volume can be read now. */
  readonly isAnswering: (mount: Mount, signal: AbortSignal) => Promise<boolean>;
  readonly meter: ProgressMeter;
  readonly log: (sentence: string, about?: object) => void;
}

/** A run, and the step that makes it. */
export interface StepRun {
  readonly step: Step;
  readonly run: RunRequest;
}
