import type { Volume, VolumeListing } from '@quayside/shoot';
import { expect, it } from 'vitest';
import { findingsOfListing, type Seen } from './findings-of-listing.ts';

const NOW = '2026-11-25T10:00:00.000Z';
const DAY_MS = 24 * 3600 * 1000;
const volume: Volume = {
  identity: {
    key: 'v1',
    basis: 'uuid',
    uuid: '1A2B-3C4D',
    serial: null,
    label: 'WHEEL',
    fileSystem: 'exfat',
    sizeInBytes: 1,
  },
  mount: null,
  standing: 'settled',
  recorder: 'wheel',
  rollId: null,
  fileCount: 1,
  sizeInBytes: 1,
  litterCount: 0,
  why: null,
  seenAt: NOW,
};

function codes(change: Partial<VolumeListing>, seen: Partial<Seen> = {}): readonly string[] {
  const files = [{ path: 'A.MOV', sizeInBytes: 1, modifiedMs: Date.parse(NOW) }];
  const listing: VolumeListing = { files, litterCount: 0, specials: [], unreadable: [], ...change };
  return findingsOfListing({ rollId: 'wheel-1', volume, listing, destinations: [], now: NOW, ...seen }).map(
    ({ code }) => code,
  );
}

const dated = (modifiedMs: number): Partial<VolumeListing> => ({
  files: [{ path: 'A.MOV', sizeInBytes: 1, modifiedMs }],
});

it('finds nothing on a clean drive', () => expect(codes({})).toEqual([]));
it('tells when the footage is dated after this clock', () =>
  expect(codes(dated(Date.parse(NOW) + 2 * DAY_MS))).toEqual(['CLOCK_BEFORE_FOOTAGE']));
it('lets time zones pass', () => expect(codes(dated(Date.parse(NOW) + DAY_MS / 2))).toEqual([]));
it('tells when the recorder had no clock', () =>
  expect(codes(dated(Date.UTC(1980, 0, 1)))).toEqual(['RECORDER_CLOCK_UNSET']));
it('tells of links and pipes', () =>
  expect(codes({ specials: [{ path: 'x', kind: 'link' }] })).toEqual(['SPECIAL_FILE']));
it('tells of what cannot be read', () =>
  expect(codes({ unreadable: [{ path: 'x', why: 'EACCES' }] })).toEqual(['FILE_UNREADABLE']));
it('tells when the drive can only be told by its label', () => {
  expect(codes({}, { volume: { ...volume, identity: { ...volume.identity, basis: 'label' } } })).toEqual([
    'WEAK_IDENTITY',
  ]);
});
it('tells why a destination is skipped', () => {
  const failure = { code: 'DESTINATION_TOO_SMALL', sentence: 'No room.', retry: 'destination' } as const;
  expect(codes({}, { destinations: [{ destination: { name: 'primary', root: '/p', id: 'x' }, failure }] })).toEqual([
    'DESTINATION_TOO_SMALL',
  ]);
});
