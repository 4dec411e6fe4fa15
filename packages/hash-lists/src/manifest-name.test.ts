import { expect, it } from 'vitest';
import { generationInName, manifestName } from './manifest-name.ts';

// Both examples: ASC MHL Specification v1.0, section 6.3.
it('a manifest is named after generation, folder and UTC start', () => {
  expect(manifestName(1, 'A002R2EC', '2019-01-07T08:02:28.000Z')).toBe('0001_A002R2EC_2019-01-07_080228Z.mhl');
});

it('a start given with an offset is named in UTC', () => {
  expect(manifestName(2, 'A002R2EC', '2019-07-07T12:08:01-07:00')).toContain('_190801Z.mhl');
});

it('the ten-thousandth generation has five digits', () => {
  expect(manifestName(10_000, 'wheel', '2019-01-07T08:02:28.999Z')).toBe('10000_wheel_2019-01-07_080228Z.mhl');
});

it.each([
  ['0001_A002R2EC_2019-01-07_080228Z.mhl', 1],
  ['0012_A002R2EC_2019-01-07_080228.mhl', 12],
  ['10000_a_b\n_2019-01-07_080228Z.mhl', 10_000],
  ['._0001_A002R2EC_2019-01-07_080228Z.mhl', null],
  ['.0001_A002R2EC_2019-01-07_080228Z.mhl.part', null],
  ['ascmhl_chain.xml', null],
])('the generation in the file name %j is %j', (name, generation) => {
  expect(generationInName(name)).toBe(generation);
});
