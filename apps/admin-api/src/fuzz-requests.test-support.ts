import { Ajv2020 } from 'ajv/dist/2020.js';
import ajvFormats from 'ajv-formats';
import fc from 'fast-check';
import {
  HOSTILE_ADDRESS,
  HOSTILE_BODY,
  HOSTILE_HEADERS,
  HOSTILE_JSON,
  HOSTILE_TYPE,
  objectsOf,
  valuesOf,
} from './fuzz-values.test-support.ts';
import type { JsonSchema, Operation, Parameter, RawRequest } from './openapi-document.test-support.ts';

/** The parts of a request before they are put together, each as it goes on the wire. */
interface Parts {
  readonly path: Readonly<Record<string, string>>;
  readonly query: readonly string[];
  readonly headers: Readonly<Record<string, string>>;
  readonly body: { readonly type: string; readonly content: string | Buffer } | null;
}

/** Requests that the document allows. About half of the values are those of its examples, which name something that is there. */
export function validRequests(operation: Operation): fc.Arbitrary<RawRequest> {
  return validParts(operation).map((parts) => requestOf(operation, parts));
}

/** Requests with one value that the document does not allow, by the word of Ajv; null when it allows everything. */
export function invalidRequests(operation: Operation): fc.Arbitrary<RawRequest> | null {
  const breaks = [...operation.parameters.flatMap(breakParameter), ...breakBody(operation)];
  if (breaks.length === 0) return null;
  return fc
    .tuple(validParts(operation), fc.oneof(...breaks))
    .map(([parts, change]) => requestOf(operation, change(parts)));
}

/** Requests that are made to do harm: hostile text in every place that takes some, and in others. */
export function hostileRequests(operation: Operation): fc.Arbitrary<RawRequest> {
  const names = operation.parameters.filter(({ in: place }) => place === 'query').map(({ name }) => name);
  const parts = fc.record({
    valid: validParts(operation),
    path: fc.array(HOSTILE_ADDRESS, { minLength: 4, maxLength: 4 }),
    isPathHostile: fc.boolean(),
    query: fc.array(hostileQuery(['x', '__proto__', ...names]), { maxLength: 4 }),
    headers: HOSTILE_HEADERS,
    body: fc.option(hostileBody(operation)),
    method: fc.oneof(
      { weight: 9, arbitrary: fc.constant(operation.method) },
      { weight: 1, arbitrary: fc.constantFrom('HEAD', 'PUT', 'PATCH', 'DELETE', 'OPTIONS', 'POST', 'TRACE') },
    ),
  });
  return parts.map(({ valid, path, isPathHostile, query, headers, body, method }) => {
    const hostile = Object.fromEntries(Object.keys(valid.path).map((name, index) => [name, path[index] ?? '']));
    const isReading = method === 'GET' || method === 'HEAD';
    return requestOf(
      { ...operation, method },
      {
        path: isPathHostile ? hostile : valid.path,
        query: [...valid.query, ...query],
        headers: { ...valid.headers, ...headers },
        body: isReading ? null : (body ?? valid.body),
      },
    );
  });
}

function validParts({ parameters, body }: Operation): fc.Arbitrary<Parts> {
  const of = (place: Parameter['in']): readonly Parameter[] => parameters.filter((one) => one.in === place);
  const required = of('query').filter((one) => one.required);
  const optional = of('query').filter((one) => !one.required);
  return fc.record({
    path: fc.record(Object.fromEntries(of('path').map((one) => [one.name, textOf(one)]))),
    query: fc
      .tuple(
        fc.tuple(...required.map(pair)),
        fc.tuple(...optional.map((one) => fc.option(pair(one), { freq: one.example === undefined ? 1 : 3, nil: '' }))),
      )
      .map((pairs) => pairs.flat().filter((text) => text !== '')),
    headers: fc.constant({}),
    body:
      body === null
        ? fc.constant(null)
        : fc
            .oneof(fc.constant(body.example ?? null), valuesOf(body.schema))
            .map((value) => ({ type: 'application/json', content: JSON.stringify(value) })),
  });
}

function pair(one: Parameter): fc.Arbitrary<string> {
  return textOf(one).map((text) => `${one.name}=${text}`);
}

function textOf({ schema, example }: Parameter): fc.Arbitrary<string> {
  const any = valuesOf(schema).map((value) => encodeURIComponent(String(value).toWellFormed()));
  if (example === undefined) return any.map((text) => (text === '' ? 'x' : text));
  return fc.oneof(
    { weight: 3, arbitrary: fc.constant(encodeURIComponent(String(example))) },
    { weight: 1, arbitrary: any.map((text) => (text === '' ? 'x' : text)) },
  );
}

type Break = fc.Arbitrary<(parts: Parts) => Parts>;

function breakParameter({ in: place, name, schema, required }: Parameter): readonly Break[] {
  if (place === 'header') return [];
  const wrong = WRONG_TEXTS.filter((text) => !isAllowed(schema, text, { coerced: true }));
  const breaks: Break[] = [];
  if (place === 'query' && required)
    breaks.push(fc.constant((parts) => ({ ...parts, query: without(parts.query, name) })));
  if (wrong.length === 0) return breaks;
  const texts = fc.constantFrom(...wrong).map(encodeURIComponent);
  if (place === 'path')
    breaks.push(texts.map((text) => (parts) => ({ ...parts, path: { ...parts.path, [name]: text } })));
  else
    breaks.push(
      texts.map((text) => (parts) => ({ ...parts, query: [...without(parts.query, name), `${name}=${text}`] })),
    );
  return breaks;
}

function breakBody({ body }: Operation): readonly Break[] {
  if (body === null) return [];
  const wrong = fc
    .oneof(HOSTILE_JSON, hostileObjects(body.schema))
    .filter((value) => !isAllowed(body.schema, value, { coerced: false }));
  const type = 'application/json';
  return [
    wrong.map((value) => (parts) => ({ ...parts, body: { type, content: JSON.stringify(value) } })),
    fc.constantFrom('{', '', '{"a":}', 'x').map((content) => (parts) => ({ ...parts, body: { type, content } })),
    fc.constant((parts) => ({ ...parts, body: { type: 'text/csv', content: 'a,b' } })),
  ];
}

function hostileBody({ body }: Operation): fc.Arbitrary<Parts['body']> {
  const contents =
    body === null
      ? HOSTILE_BODY
      : fc.oneof(
          HOSTILE_BODY,
          hostileObjects(body.schema).map((value) => JSON.stringify(value)),
        );
  const types = fc.oneof(
    { weight: 3, arbitrary: fc.constant('application/json') },
    { weight: 1, arbitrary: HOSTILE_TYPE },
  );
  return fc.record({ type: types, content: contents });
}

/** Objects with the names that a body has, and with anything under them. */
function hostileObjects(schema: JsonSchema): fc.Arbitrary<unknown> {
  const [first] = (schema['anyOf'] ?? [schema]) as readonly JsonSchema[];
  return fc
    .tuple(
      objectsOf(first ?? schema, () => HOSTILE_JSON),
      fc.boolean(),
    )
    .map(([value, hasMore]) => (hasMore ? { ...value, more: 1 } : value));
}

function hostileQuery(names: readonly string[]): fc.Arbitrary<string> {
  return fc
    .tuple(fc.constantFrom(...names), fc.constantFrom('', '[]', '[$gt]', '[0]', '.x', '%00'), HOSTILE_ADDRESS)
    .map(([name, suffix, value]) => `${name}${suffix}=${value}`);
}

function without(query: readonly string[], name: string): readonly string[] {
  return query.filter((text) => !text.startsWith(`${name}=`));
}

function requestOf({ method, path }: Pick<Operation, 'method' | 'path'>, parts: Parts): RawRequest {
  const filled = path.replaceAll(/\{(\w+)\}/g, (_, name: string) => parts.path[name] ?? '');
  // What a client could not put on a request line at all is no request.
  const target = [filled, ...(parts.query.length > 0 ? [parts.query.join('&')] : [])].join('?');
  const request = { method, path: target.replaceAll(/[^!-~]/g, ''), headers: parts.headers };
  return parts.body === null
    ? request
    : { ...request, headers: { ...parts.headers, 'content-type': parts.body.type }, body: parts.body.content };
}

const WRONG_TEXTS = ['x y', 'A', '-1', '0', '1.5', 'NaN', '1e400', '../x', '', '%', 'a'.repeat(3000)];

/** Whether a value is as its schema says; `coerced` for text that stands in an address. */
function isAllowed(schema: JsonSchema, value: unknown, { coerced }: { readonly coerced: boolean }): boolean {
  const ajv = coerced ? COERCING : STRICT;
  return ajv.validate({ type: 'object', properties: { value: schema } }, { value });
}

const STRICT = newAjv(false);
const COERCING = newAjv(true);

function newAjv(coerceTypes: boolean): Ajv2020 {
  const ajv = new Ajv2020({ strict: false, coerceTypes });
  ajvFormats.default(ajv);
  return ajv;
}
