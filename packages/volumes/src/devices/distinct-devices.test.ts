import * as fc from 'fast-check';
import { expect, it } from 'vitest';
import { type DistinctDevices, distinctDevices, type PlacedDestination } from './distinct-devices.ts';

const on = (name: string, ...devices: readonly string[]): PlacedDestination => ({
  name,
  devices,
  imageHosts: [],
  memory: false,
  network: null,
});
const served = (name: string, network: string): PlacedDestination => ({ ...on(name), network });
const groupsOf = (...given: readonly PlacedDestination[]): DistinctDevices['groups'] => distinctDevices(given).groups;
const inMemory = (name: string): PlacedDestination => ({ ...on(name), memory: true });

it('two disks are two devices', () => {
  expect(distinctDevices([on('primary', 'sda'), on('backup', 'sdb')])).toEqual({
    groups: [['primary'], ['backup']],
    uncounted: [],
  });
});

it('destinations that share one disk of several are one device, also by way of a third', () => {
  const raid = on('raid', 'sdb', 'sdc');
  expect(distinctDevices([on('one', 'sda', 'sdb'), on('two', 'sdc'), raid, on('four', 'sdd')]).groups).toEqual([
    ['one', 'two', 'raid'],
    ['four'],
  ]);
});

it('an image file lies on the disk that holds it, and two image files on one disk are two', () => {
  const image = { ...on('image', 'loop0'), imageHosts: ['sda'] };
  const other = { ...on('other', 'loop1'), imageHosts: ['sda'] };
  expect(groupsOf(image, on('plain', 'sda'))).toEqual([['image', 'plain']]);
  expect(groupsOf(on('plain', 'sda'), image)).toEqual([['plain', 'image']]);
  expect(groupsOf(image, on('plain', 'sdb'))).toEqual([['image'], ['plain']]);
  expect(groupsOf(image, other)).toEqual([['image'], ['other']]);
});

it('two shares of one server are one device, and a server is not a disk of the same name', () => {
  expect(distinctDevices([served('a', 'nas'), served('b', 'nas'), on('c', 'nas')]).groups).toEqual([['a', 'b'], ['c']]);
});

it('a destination in memory counts nothing', () => {
  expect(distinctDevices([inMemory('fast'), on('slow', 'sda')])).toEqual({
    groups: [['slow']],
    uncounted: [{ name: 'fast', why: 'memory' }],
  });
});

it('unknown devices are one device among themselves and none beside a known one', () => {
  expect(distinctDevices([on('a'), on('b')])).toEqual({ groups: [['a', 'b']], uncounted: [] });
  expect(distinctDevices([on('a'), on('b', 'sda')])).toEqual({
    groups: [['b']],
    uncounted: [{ name: 'a', why: 'unknown' }],
  });
});

it('no two groups share hardware, nor does an image’s disk, and every destination is told of exactly once', () => {
  const hardware = fc.subarray(['sda', 'sdb', 'sdc', 'sdd', 'sde']);
  const placed = fc.record({
    devices: hardware,
    imageHosts: hardware,
    memory: fc.boolean(),
    network: fc.constantFrom(null, 'nas', 'vault'),
  });
  fc.assert(
    fc.property(fc.array(placed, { maxLength: 8 }), (places) => {
      const destinations = places.map((place, index) => ({ ...place, name: `d${index}` }));
      const { groups, uncounted } = distinctDevices(destinations);
      const piecesOf = (names: readonly string[]): readonly string[] => [
        ...new Set(
          destinations
            .filter(({ name }) => names.includes(name))
            .flatMap(({ devices, network }) => (network ? [...devices, `@${network}`] : devices)),
        ),
      ];
      const pieces = groups.flatMap(piecesOf);
      expect(new Set(pieces).size).toBe(pieces.length);
      const lasting = destinations.filter(({ memory, devices }) => !memory && devices.length > 0);
      const groupOf = (name: string): number => groups.findIndex((names) => names.includes(name));
      for (const one of lasting)
        for (const other of lasting)
          if (one.imageHosts.some((disk) => other.devices.includes(disk)))
            expect(groupOf(one.name)).toBe(groupOf(other.name));
      const told = [...groups.flat(), ...uncounted.map(({ name }) => name)];
      expect(told.toSorted()).toEqual(destinations.map(({ name }) => name).toSorted());
    }),
  );
});
