import type { StandardSchemaV1 } from '@standard-schema/spec';
import type { Dependency } from './dependency.ts';
import type { StepScope } from './step-scope.ts';
import type { NoConfig, NoOutput, OutputSchema, Step } from './step.ts';

/** States a step. It returns what it is given; its use is that every type inside `run` follows from what is stated. */
export function defineStep<
  const Name extends string,
  const Scope extends StepScope,
  Config extends StandardSchemaV1 = NoConfig,
  Output extends OutputSchema = NoOutput,
  const After extends readonly Dependency[] = readonly [],
  const Secret extends string = never,
>(step: Step<Name, Scope, Config, Output, After, Secret>): Step<Name, Scope, Config, Output, After, Secret> {
  return step;
}
