import type { Grant } from '@quayside/shoot';
import type { StandardSchemaV1 } from '@standard-schema/spec';
import type { Dependency } from './dependency.ts';
import type { JsonValue } from './json-value.ts';
import type { StepRun } from './step-run.ts';
import type { StepScope, Subjects } from './step-scope.ts';

/** A schema whose values can be stored as JSON. */
export type OutputSchema = StandardSchemaV1<unknown, JsonValue>;

/** What a step's runs may use. A run that passes a limit is stopped, and fails with the plugin's name on it. */
export interface StepLimits {
  /** How long one run may take; 600 by default. */
  readonly seconds?: number;
  /** Memory of its process in MB (10^6 bytes), compiled code's included; 512 by default. */
  readonly memoryMb?: number;
  /** Memory of all programs together that it starts, in MB; 4096 by default. Counted on Linux. */
  readonly programsMb?: number;
  /** What it may leave in its folders, in MB; 1024 by default. */
  readonly outputMb?: number;
  /** How many of its runs may be under way at once; 1 by default. */
  readonly parallel?: number;
}

/**
 * A guest's step: one piece of work on a clip, a roll or a shoot whose copies are proven. `run` may be called again for
 * the same subject, and its process may be killed at any moment: nothing outside its own two folders may depend on it
 * having been called once.
 */
export interface Step<
  Name extends string = string,
  Scope extends StepScope = StepScope,
  Config extends StandardSchemaV1 = StandardSchemaV1,
  Output extends OutputSchema = OutputSchema,
  After extends readonly Dependency[] = readonly Dependency[],
  Secret extends string = string,
> {
  /** Lower-case letters, digits and hyphens; unlike the names of the plugin's other steps. */
  readonly name: Name;
  readonly scope: Scope;
  /** One sentence for the operator. */
  readonly description?: string;
  /** Any Standard Schema for what the operator may configure. Without one there is nothing to configure. */
  readonly config?: Config;
  /** Any Standard Schema for what `run` gives. Without one it gives nothing. */
  readonly output?: Output;
  readonly after?: After;
  /** What it needs beyond reading its copies and writing its folders; it runs only where the operator grants all of it. */
  readonly asks?: readonly Grant[];
  /** The names of the secrets that it needs; it runs only where the operator set all of them. */
  readonly secrets?: readonly Secret[];
  readonly limits?: StepLimits;
  /**
   * For steps that keep a machine busy: their runs are held up while drives are being taken in, unless the operator says
   * otherwise. Held up, a run's process and all that it started stand still, so clocks in it jump; its limit in seconds does not.
   */
  readonly makesWay?: boolean;
  /** Says whether there is anything to do for a subject; a sentence says why not. Called in the step's own process, before `run`. */
  when?(facts: {
    readonly subject: Subjects[Scope];
    readonly config: StandardSchemaV1.InferOutput<Config>;
  }): boolean | string | Promise<boolean | string>;
  // Methods, not properties: their parameters are bivariant, so unlike steps fit one `Step[]`. The host parses what goes in.
  run(run: StepRun<Scope, Config, After, Secret>): Promise<StandardSchemaV1.InferInput<Output>>;
}

/** The schema of a step that states none: nothing to configure. */
export type NoConfig = StandardSchemaV1<Record<string, never>, Record<string, never>>;

/** The schema of a step that states none: it returns nothing, and is stored as `null`. */
export type NoOutput = StandardSchemaV1<void, null>;
