import type { StandardSchemaV1 } from '@standard-schema/spec';
import type { Capabilities, CapabilityName } from './capabilities.ts';

/** The version of this contract. A host refuses, by name, a plugin made for another one. */
export const CONTRACT_VERSION = 1;

/** What every step gets beside its config and input. */
export interface StepContext {
  /** Aborted when the run should stop. Stop soon: after a grace time the process is killed. */
  readonly signal: StopSignal;
  /** Writes to the run's log. */
  readonly log: (sentence: string) => void;
  /** `fraction` runs from 0 to 1; `bytes` is what has been moved so far. Call as often as you like, it is thinned out. */
  readonly progress: (progress: { readonly fraction: number; readonly bytes?: number }) => void;
}

/** The part of an `AbortSignal` that a step needs; a real one fits. */
export interface StopSignal {
  readonly aborted: boolean;
  throwIfAborted(): void;
}

/**
 * One unit of pipeline work. `run` may be called again for the same input, also while an earlier call still runs
 * somewhere: it must look at what is already there and change nothing the second time.
 */
export interface Step<
  Name extends string = string,
  Config extends StandardSchemaV1 = StandardSchemaV1,
  Input extends StandardSchemaV1 = StandardSchemaV1,
  Output extends StandardSchemaV1 = StandardSchemaV1,
  Needs extends CapabilityName = CapabilityName,
> {
  readonly name: Name;
  /** What one run is about. */
  readonly scope: 'clip' | 'roll' | 'shoot';
  /** The steps whose outcome it builds on, for the graph. */
  readonly after: readonly string[];
  /** What it needs beyond a guest's rights. The worker's composition hands these in by name; a guest is refused. */
  readonly needs: readonly Needs[];
  readonly config: Config;
  readonly input: Input;
  readonly output: Output;
  // A method, not a property: its parameter is bivariant, so unlike steps fit one `Step[]`. `runStep` makes that safe.
  run(job: {
    readonly config: StandardSchemaV1.InferOutput<Config>;
    readonly input: StandardSchemaV1.InferOutput<Input>;
    readonly context: StepContext & Pick<Capabilities, Needs>;
  }): Promise<StandardSchemaV1.InferInput<Output>>;
}

/** States a step. It returns what it is given; its use is that every type inside `run` follows from the schemas. */
export function defineStep<
  const Name extends string,
  Config extends StandardSchemaV1,
  Input extends StandardSchemaV1,
  Output extends StandardSchemaV1,
  const Needs extends CapabilityName = never,
>(step: Step<Name, Config, Input, Output, Needs>): Step<Name, Config, Input, Output, Needs> {
  return step;
}

/** A package, or one file, that registers steps. */
export interface Plugin {
  readonly contract: typeof CONTRACT_VERSION;
  readonly name: string;
  readonly version: string;
  readonly steps: readonly Step[];
}

/** States a plugin under this version of the contract. */
export function definePlugin(plugin: Omit<Plugin, 'contract'>): Plugin {
  return { contract: CONTRACT_VERSION, ...plugin };
}
