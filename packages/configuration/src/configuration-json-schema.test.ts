import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { expect, test } from 'vitest';
import { parse } from 'yaml';
import { configurationJsonSchema } from './configuration-json-schema.ts';

// The checker is Ajv 8, which brings the draft 2020-12 meta-schema of json-schema.org and shares no code with zod.
const validate = new Ajv2020({ strict: true, allowUnionTypes: true, validateSchema: true, allErrors: true }).compile(
  configurationJsonSchema(),
);

test('the example is valid under the schema as an independent checker reads it', async () => {
  const example: unknown = parse(await readFile(join(import.meta.dirname, '../quayside.example.yaml'), 'utf8'));
  validate(example);
  expect(validate.errors).toBeNull();
});

const destinations = [{ name: 'a', path: '/a' }];
test.each([
  ['an unknown key', { destinations, copys: 1 }],
  ['no destinations', {}],
  [
    'a match on two things',
    { destinations, recorders: { wheel: { role: 'camera', match: [{ label: 'a', uuid: 'b' }] } } },
  ],
  ['a match on nothing', { destinations, recorders: { wheel: { role: 'camera', match: [{}] } } }],
  ['a name that is no folder', { destinations, recorders: { 'The Wheel': { role: 'camera' } } }],
  ['an hour that no day has', { destinations, shoots: { dayBoundary: '24:00' } }],
  ['a port that is none', { destinations, api: { port: 65_536 } }],
])('%s is invalid under the schema too', (_, value) => {
  expect(validate(value)).toBe(false);
});

test('every key tells what it is, and every optional one its default', () => {
  const untold = keysOf(configurationJsonSchema(), '').filter(({ description }) => !description.endsWith('.'));
  expect(untold).toStrictEqual([]);
  const silent = keysOf(configurationJsonSchema(), '').filter(
    ({ isLeaf, description }) => isLeaf && !/default|recognise|Short name/i.test(description),
  );
  expect(silent).toStrictEqual([]);
});

interface Told {
  readonly key: string;
  readonly description: string;
  readonly isLeaf: boolean;
}

function keysOf(node: unknown, at: string): Told[] {
  const { properties, additionalProperties, items } = node as Record<string, unknown>;
  const children = Object.entries((properties ?? {}) as Record<string, { description?: string; properties?: object }>);
  return [
    ...children.flatMap(([key, child]) => [
      { key: `${at}${key}`, description: child.description ?? '', isLeaf: child.properties === undefined },
      ...keysOf(child, `${at}${key}.`),
    ]),
    ...[additionalProperties, items].flatMap((child) => (typeof child === 'object' ? keysOf(child, `${at}*.`) : [])),
  ];
}
