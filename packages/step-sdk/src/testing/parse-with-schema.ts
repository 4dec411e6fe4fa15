import type { StandardSchemaV1 } from '@standard-schema/spec';
import { TrialError } from './trial-error.ts';

/** The value as the schema gives it. Without a schema only nothing fits. @throws TrialError that names the place */
export async function parseWithSchema<Schema extends StandardSchemaV1>(
  schema: Schema | undefined,
  value: unknown,
  what: string,
): Promise<StandardSchemaV1.InferOutput<Schema>> {
  if (schema === undefined) {
    if (isNothing(value)) return value;
    throw new TrialError(`${what} is given, but the step states no schema for it.`);
  }
  const result = await schema['~standard'].validate(value);
  if (result.issues === undefined) return result.value;
  throw new TrialError(`${what} does not fit its schema: ${result.issues.map(sentenceOf).join('; ')}.`);
}

function sentenceOf({ path = [], message }: StandardSchemaV1.Issue): string {
  const place = path.map((part) => String(typeof part === 'object' ? part.key : part)).join('.');
  return place === '' ? message : `at "${place}": ${message}`;
}

function isNothing(value: unknown): boolean {
  return value === undefined || (typeof value === 'object' && value !== null && Object.keys(value).length === 0);
}

/** @throws TrialError unless the value is the same after it was stored as JSON, but for what is undefined */
export function throwUnlessJson(value: unknown, path: string): void {
  if (value === null || value === undefined || typeof value === 'string' || typeof value === 'boolean') return;
  if (typeof value === 'number' && Number.isFinite(value)) return;
  if (Array.isArray(value)) return value.forEach((one, place) => throwUnlessJson(one, `${path}.${place}`));
  if (typeof value !== 'object' || Object.getPrototypeOf(value) !== Object.prototype)
    throw new TrialError(`${path} is nothing that JSON can hold, so it would not arrive at the next step.`);
  for (const [key, one] of Object.entries(value)) throwUnlessJson(one, `${path}.${key}`);
}
