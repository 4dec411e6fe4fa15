import { expect, test } from 'vitest';
import type { Configuration } from './configuration-schema.ts';
import { statement } from './fault.ts';
import { parseConfiguration } from './parse-configuration.ts';
import { semanticFaults } from './semantic-faults.ts';

const configuration = parseConfiguration('destinations: [{ name: a, path: /a }, { name: b, path: /b }]', {
  file: 'quayside.yaml',
  env: { HOME: '/home/pat' },
  platform: 'linux',
});

const problems = (one: Configuration): readonly string[] => semanticFaults(one).map(statement);

test('what was parsed has no problems', () => {
  expect(problems(configuration)).toStrictEqual([]);
});

test('a configuration made by hand is told its problems by key, without a place in a file', () => {
  expect(problems({ ...configuration, copies: 3, hashes: ['md5', 'md5'] })).toStrictEqual([
    'copies: asks for 3 copies where there are 2 destinations, so no roll could ever be clear; add destinations, or set copies to 2 and live with the risk',
    'hashes[1]: is listed twice (got "md5"); remove one of them',
  ]);
});

test('a destination on its own drive below a watch root is fine while only mounts count as volumes', () => {
  const [first, second] = configuration.destinations;
  if (first === undefined || second === undefined) throw new Error('two destinations were given');
  const destinations = [first, { ...second, path: '/media/backup/footage' }];
  expect(problems({ ...configuration, destinations })).toStrictEqual([]);
});

test('one recorder may name the same drive twice, by label and by pattern', () => {
  const recorders = { wheel: { role: 'camera' as const, match: [{ label: 'W*' }, { label: 'WHEEL' }] } };
  expect(problems({ ...configuration, recorders })).toStrictEqual([]);
});
