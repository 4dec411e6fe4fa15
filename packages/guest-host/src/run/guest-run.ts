import type { Failure, Finding, Grant, RunLog, StepLimits, StepSubject } from '@quayside/shoot';
import type { JsonValue, StepProgress } from '@quayside/step-sdk';
import type { PluginSource } from '../plugin-source/find-plugin.ts';
import type { PauseSwitch } from './pause-switch.ts';

/** One run of one step of a guest. */
export interface GuestRun {
  readonly source: PluginSource;
  /** The plugin's and the step's own names. */
  readonly plugin: string;
  readonly step: string;
  readonly subject: StepSubject;
  /** The operator's configuration of the step, unchecked. */
  readonly config: unknown;
  /** By the full names of the steps that it comes after; for a narrower step, by subject below that. */
  readonly outputs: Readonly<Record<string, unknown>>;
  /** Absolute paths of verified copies by clip id, and of the folders they lie in by roll id. Only these folders can be read. */
  readonly clipPaths: Readonly<Record<string, string>>;
  readonly rollFolders: Readonly<Record<string, string>>;
  /** What the step asks for and the operator granted. */
  readonly grants: readonly Grant[];
  readonly secrets: Readonly<Record<string, string>>;
  readonly limits: StepLimits;
}

export interface RunControls {
  /** Stops the run: the step is asked to, and its process ended when it does not soon. */
  readonly signal: AbortSignal;
  readonly onProgress?: (progress: StepProgress) => void;
  /** Has the run stand still while it is on, with all that it started; its limit in seconds stands still with it. */
  readonly pause?: PauseSwitch;
  /**
   * Called when the run is done, with what the step left in its output folder: regular files alone, by their paths in it.
   * They are gone when this has settled. Throwing fails the run.
   */
  readonly takeFiles?: (files: OutputFiles) => Promise<void>;
}

export interface OutputFiles {
  readonly folder: string;
  readonly files: readonly { readonly path: string; readonly sizeInBytes: number }[];
}

/** How a run ended. A failure names the plugin and the step. */
export type GuestOutcome = (
  | { readonly state: 'done'; readonly output: JsonValue; readonly findings: readonly Finding[] }
  | { readonly state: 'skipped'; readonly why: string }
  | { readonly state: 'failed'; readonly failure: Failure }
  | { readonly state: 'cancelled' }
) & {
  readonly log: RunLog;
  /** For how long, in milliseconds, it was held up. */
  readonly heldUpMs: number;
};
