import type { FastifyInstance } from 'fastify';
import { z } from 'zod';

declare module 'fastify' {
  interface FastifyContextConfig {
    /** The property of the answer that holds the rows of a list; `fields` then chooses among those of each row. */
    rows?: string;
  }
}

/**
 * Gives every answer that is looked up under `/v1` the query `fields`: the properties that are wanted, of each row of a list or
 * of the one thing that is answered. What they may be called follows from the schema of the answer.
 */
export function chooseFields(app: FastifyInstance): void {
  app.addHook('onRoute', ({ url, method, schema, config }) => {
    if (schema === undefined || !(method === 'GET' || method === 'HEAD') || !url.startsWith('/v1/')) return;
    const names = fieldsOf(schema.response, config?.rows);
    if (names.length === 0) return;
    const query = schema.querystring instanceof z.ZodObject ? schema.querystring : z.object({});
    schema.querystring = query.extend({ fields: fieldsQuery(names) });
  });

  app.addHook('onSend', async (request, reply, payload) => {
    const { fields } = (request.query ?? {}) as { readonly fields?: unknown };
    if (typeof fields !== 'string' || typeof payload !== 'string' || !isReading(request.method)) return payload;
    if (reply.statusCode !== 200) return payload;
    const answer = JSON.parse(payload) as Readonly<Record<string, unknown>>;
    return JSON.stringify(choose(answer, new Set(fields.split(',')), request.routeOptions.config.rows));
  });
}

/** Whether a request only looks. */
export function isReading(method: string): boolean {
  return method === 'GET' || method === 'HEAD';
}

function choose(
  answer: Readonly<Record<string, unknown>>,
  fields: ReadonlySet<string>,
  rows: string | undefined,
): Readonly<Record<string, unknown>> {
  const list = rows === undefined ? undefined : answer[rows];
  if (rows === undefined || !Array.isArray(list)) return only(answer, fields);
  return { ...answer, [rows]: list.map((row: Readonly<Record<string, unknown>>) => only(row, fields)) };
}

function only(object: Readonly<Record<string, unknown>>, fields: ReadonlySet<string>): Record<string, unknown> {
  return Object.fromEntries(Object.entries(object).filter(([name]) => fields.has(name)));
}

function fieldsOf(response: unknown, rows: string | undefined): readonly string[] {
  const answer = (response as Readonly<Record<string, unknown>> | undefined)?.['200'];
  if (!(answer instanceof z.ZodObject)) return [];
  if (rows === undefined) return Object.keys(answer.shape);
  const list: unknown = answer.shape[rows];
  return list instanceof z.ZodArray ? [...namesIn(list.element)] : [];
}

function namesIn(row: unknown): ReadonlySet<string> {
  if (row instanceof z.ZodObject) return new Set(Object.keys(row.shape));
  return new Set(row instanceof z.ZodUnion ? row.options.flatMap((option) => [...namesIn(option)]) : []);
}

function fieldsQuery(names: readonly string[]): z.ZodType {
  const one = `(?:${names.join('|')})`;
  return z
    .string()
    .max(1000)
    .regex(new RegExp(`^${one}(?:,${one})*$`), `is not made of ${names.join(', ')}`)
    .optional()
    .describe('Only these properties, with commas between; others are left out, also such as the schema requires.');
}
