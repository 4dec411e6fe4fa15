import type { StandardSchemaV1 } from '@standard-schema/spec';
import { QuaysideError } from '@quayside/shoot';
import type { Capabilities } from './capabilities.ts';
import type { Step, StepContext } from './step.ts';

/**
 * Runs a step on untyped values. The only caller of `step.run`: it parses config, input and output with the step's own
 * schemas, and hands in no capability that the step did not ask for.
 * @throws QuaysideError `BAD_CONFIG`, `BAD_INPUT` or `BAD_OUTPUT`, naming the step and the first fault.
 */
export async function runStep(
  step: Step,
  raw: { readonly config: unknown; readonly input: unknown },
  context: StepContext & Capabilities,
): Promise<unknown> {
  const config = await parse(step, 'BAD_CONFIG', raw.config);
  const input = await parse(step, 'BAD_INPUT', raw.input);
  const granted = Object.fromEntries(step.needs.map((need) => [need, context[need]]));
  const output = await step.run({
    config,
    input,
    // The cast is the one place where the step's own list of needs meets the full set.
    context: { signal: context.signal, log: context.log, progress: context.progress, ...granted } as StepContext &
      Capabilities,
  });
  return parse(step, 'BAD_OUTPUT', output);
}

const PART = { BAD_CONFIG: 'config', BAD_INPUT: 'input', BAD_OUTPUT: 'output' } as const;

async function parse(step: Step, code: keyof typeof PART, value: unknown): Promise<unknown> {
  const schema: StandardSchemaV1 = step[PART[code]];
  const result = await schema['~standard'].validate(value);
  if (result.issues === undefined) return result.value;
  const [issue] = result.issues;
  const place = issue?.path?.map((part) => String(typeof part === 'object' ? part.key : part)).join('.') ?? '';
  throw new QuaysideError({
    code,
    sentence: `The ${PART[code]} of step "${step.name}" is not what its schema says${place && ` at "${place}"`}: ${issue?.message ?? 'no reason given'}. Correct the step or its configuration.`,
    retry: 'never',
  });
}
