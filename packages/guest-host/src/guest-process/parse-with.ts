import type { StandardSchemaV1 } from '@standard-schema/spec';

export type Parsed = { readonly fault: null; readonly value: unknown } | { readonly fault: string };

/** Parses a value with any Standard Schema; without one, only nothing fits. A fault is the first one, with its place. */
export async function parseWith(schema: StandardSchemaV1 | undefined, value: unknown): Promise<Parsed> {
  if (schema === undefined)
    return isNothing(value) ? { fault: null, value } : { fault: 'The step states no schema for it.' };
  const result = await schema['~standard'].validate(value);
  if (result.issues === undefined) return { fault: null, value: result.value };
  const [issue] = result.issues;
  const place = issue?.path?.map((part) => String(typeof part === 'object' ? part.key : part)).join('.') ?? '';
  return { fault: `${place === '' ? '' : `at "${place}": `}${issue?.message ?? 'no reason given'}` };
}

function isNothing(value: unknown): boolean {
  return value === undefined || (typeof value === 'object' && value !== null && Object.keys(value).length === 0);
}
