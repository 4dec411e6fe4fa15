import type { BuiltInStep } from '@quayside/shoot';
import type { StandardSchemaV1 } from '@standard-schema/spec';
import type { StepScope } from './step-scope.ts';

/** A step of any plugin by its full name: `loudness/measure`. */
export type StepName = `${string}/${string}`;

/** The part of a step that one coming after it needs. */
export interface StepBefore {
  readonly name: string;
  readonly scope: StepScope;
  readonly output?: StandardSchemaV1;
}

/** What a step comes after: a step object (then its output is typed), a step's full name, or a built-in step. After `seal` it comes anyway. */
export type Dependency = StepBefore | StepName | BuiltInStep;

/**
 * The outputs that a step of this scope is given, by the name of the step object, or by the full name as it was written. A
 * step of a narrower scope has one for each of its subjects, by the subject's id. Of the built-in steps `proxy-planning` gives
 * steps on a clip its part of the plan, a `ClipPlan` of `@quayside/proxy-planning`; the others give order alone.
 */
export type OutputsOf<Scope extends StepScope, After extends readonly Dependency[]> = {
  readonly [Before in After[number] as KeyOf<Before>]: Before extends StepBefore
    ? PerSubject<Scope, Before['scope'], OutputOf<Before>>
    : unknown;
} & { readonly 'proxy-planning'?: unknown };

/** What a step gives to those that come after it; `null` when it states no output. */
export type OutputOf<Before extends StepBefore> =
  Exclude<Before['output'], undefined> extends infer Output extends StandardSchemaV1
    ? StandardSchemaV1.InferOutput<Output>
    : null;

type KeyOf<Before> = Before extends StepBefore ? Before['name'] : Before extends StepName ? Before : never;

type PerSubject<Own extends StepScope, Other extends StepScope, Output> = Other extends Narrower[Own]
  ? Readonly<Record<string, Output>>
  : Output;

interface Narrower {
  readonly clip: never;
  readonly roll: 'clip';
  readonly shoot: 'clip' | 'roll';
}
