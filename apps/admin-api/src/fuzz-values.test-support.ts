import fc from 'fast-check';
import type { JsonSchema } from './openapi-document.test-support.ts';

/** Values that a JSON Schema allows, of those keywords that the inputs of the API use. An unknown type is an error, so that none is missed. */
export function valuesOf(schema: JsonSchema): fc.Arbitrary<unknown> {
  if (Array.isArray(schema['enum'])) return fc.constantFrom(...(schema['enum'] as unknown[]));
  if ('const' in schema) return fc.constant(schema['const']);
  const either = schema['anyOf'] ?? schema['oneOf'];
  if (Array.isArray(either)) return fc.oneof(...(either as JsonSchema[]).map(valuesOf));
  switch (schema['type']) {
    case 'string':
      return stringsOf(schema);
    case 'integer':
      return fc.integer({ min: numberOf(schema['minimum'], -1000), max: numberOf(schema['maximum'], 1000) });
    case 'number':
      return fc.double({
        noNaN: true,
        min: numberOf(schema['minimum'], -1000),
        max: numberOf(schema['maximum'], 1000),
      });
    case 'boolean':
      return fc.boolean();
    case 'null':
      return fc.constant(null);
    case 'array':
      return fc.array(valuesOf(schema['items'] as JsonSchema), { minLength: 1, maxLength: 3 });
    case 'object':
      return objectsOf(schema, valuesOf);
    default:
      throw new Error(`No values are known for the schema ${JSON.stringify(schema)}.`);
  }
}

/** Objects of a schema's properties, each by `values`; of those that may be left out some are. */
export function objectsOf(
  schema: JsonSchema,
  values: (schema: JsonSchema) => fc.Arbitrary<unknown>,
): fc.Arbitrary<Record<string, unknown>> {
  const properties = Object.entries((schema['properties'] ?? {}) as Record<string, JsonSchema>);
  return fc.record(Object.fromEntries(properties.map(([name, property]) => [name, values(property)])), {
    requiredKeys: (schema['required'] ?? []) as string[],
  });
}

function stringsOf({ pattern, format, minLength, maxLength }: JsonSchema): fc.Arbitrary<string> {
  const longest = Math.min(numberOf(maxLength, 40), 40);
  if (format === 'date-time') {
    const [min, max] = [new Date('2000-01-01T00:00:00Z'), new Date('2100-01-01T00:00:00Z')];
    return fc.date({ min, max, noInvalidDate: true }).map((date) => date.toISOString());
  }
  if (typeof pattern === 'string') return fc.stringMatching(new RegExp(pattern)).filter((text) => text.length < 200);
  return fc.string({ unit: 'grapheme', minLength: numberOf(minLength, 0), maxLength: longest });
}

function numberOf(value: unknown, otherwise: number): number {
  return typeof value === 'number' ? value : otherwise;
}

/** What somebody sends who wants something else than an answer. */
export const HOSTILE_TEXT: fc.Arbitrary<string> = fc.oneof(
  fc.constantFrom(
    '../../../../etc/passwd',
    '..',
    '/',
    'a\u0000b',
    'x\r\nset-cookie: quayside-session=1',
    '__proto__',
    'constructor',
    'hasOwnProperty',
    "' OR '1'='1",
    '"\r\nFLUSHALL\r\n',
    'redis.call("flushall")',
    '${7*7}{{7*7}}',
    '<script>alert(1)</script>',
    '\u202Eegnahc',
    '\uD800',
    '*',
    '-1',
    '1e309',
    'NaN',
    '0x10',
    '9007199254740993',
    '{}',
    'null',
    'W10',
    'WyJhIl0',
    'WzEsMl0',
    'eyJhIjoxfQ',
    ' ',
    '',
    'a'.repeat(3000),
    '9'.repeat(400),
  ),
  fc.string({ unit: 'binary', maxLength: 30 }),
  fc.string({ unit: 'grapheme', maxLength: 300 }),
);

/** Pieces of an address that are no proper escapes, or mean more than they look. */
export const HOSTILE_ADDRESS: fc.Arbitrary<string> = fc.oneof(
  HOSTILE_TEXT.map((text) => encodeURIComponent(text.toWellFormed())),
  fc.constantFrom('..', '%2e%2e%2f', '..%5c', '%00', '%zz', '%c0%af', '%', '*', ';', '[x]', '%ff%fe', '//', '@', '#'),
);

/** Whatever JSON can hold, in the place of what is asked for. */
export const HOSTILE_JSON: fc.Arbitrary<unknown> = fc.oneof(
  HOSTILE_TEXT,
  fc.constantFrom<unknown>(null, true, 0, -1, 1.5, 1e308, [], {}, [[]], ['a'], { a: 1 }, { toString: 1 }),
  fc.jsonValue({ maxDepth: 3 }),
);

/** Bodies that are not what their type says, or more than a reader of JSON should follow. */
export const HOSTILE_BODY: fc.Arbitrary<string | Buffer> = fc.oneof(
  fc.constantFrom<string | Buffer>(
    '{',
    '[]',
    '"x"',
    '1e999',
    '{"__proto__":{"isAdmin":true}}',
    '{"constructor":{"prototype":{"isAdmin":true}}}',
    '['.repeat(4000),
    '{"a":'.repeat(2000),
    `{"name":"${'x'.repeat(17_000)}"}`,
    '\uFEFF{}',
    '{"name":"a","name":"b"}',
    'name=a&by=b',
    Buffer.from([0xff, 0xfe, 0x7b, 0x7d]),
    Buffer.from('{"name":"\xC3\x28"}', 'latin1'),
  ),
  HOSTILE_JSON.map((value) => JSON.stringify(value)),
);

export const HOSTILE_TYPE: fc.Arbitrary<string> = fc.constantFrom(
  'application/json',
  'application/json; charset=utf-16',
  'application/json, text/plain',
  'text/plain',
  'application/x-www-form-urlencoded',
  'multipart/form-data; boundary=x',
  'application/octet-stream',
  ';',
);

/** Headers that the API reads, or that others read, with what they are not meant to hold. */
export const HOSTILE_HEADERS: fc.Arbitrary<Record<string, string>> = fc
  .record(
    Object.fromEntries(
      [
        'idempotency-key',
        'quayside-operator',
        'quayside-page-key',
        'last-event-id',
        'if-none-match',
        'if-match',
        'cookie',
        'accept',
        'origin',
        'range',
        'content-encoding',
        'x-forwarded-host',
        'x-http-method-override',
      ].map((name) => [name, headerValue()]),
    ),
    { requiredKeys: [] },
  )
  .map((headers) => headers as Record<string, string>);

/** Of what HTTP lets a header hold (RFC 9110, section 5.5). */
function headerValue(): fc.Arbitrary<string> {
  return fc.oneof(
    fc.constantFrom('*', '"', '""', 'W/"x"', '"a", "b"', '$', '0', '-1', 'null', 'DELETE', 'bytes=0-', 'x'.repeat(400)),
    fc.stringMatching(/^[ -~\u00A1-\u00FF]{0,40}$/).map((text) => text.trim()),
  );
}
