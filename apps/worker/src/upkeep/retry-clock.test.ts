import { advance } from '@quayside/pipeline';
import type { Failure, Roll } from '@quayside/shoot';
import { expect, it } from 'vitest';
import { RetryClock } from './retry-clock.ts';

const NOW = '2026-11-25T10:00:00.000Z';
const LATER: Failure = { code: 'SOURCE_READ_ERROR', sentence: 'It cannot be read.', retry: 'later' };
const MINUTE = 60_000;

function failing(times: number): Roll {
  let roll = advance(null, { type: 'listed', roll: LISTED }, NOW);
  for (let time = 0; time < times; time += 1) {
    roll = advance(roll, { type: 'retryDue' }, NOW);
    const outcome = { primary: LATER };
    roll = advance(roll, { type: 'parcelCopied', visit: 1, parcel: 0, outcome, findings: [] }, NOW);
  }
  return roll;
}

const LISTED = {
  id: 'wheel-20261125-abc123',
  shootId: '2026-11-25',
  recorder: 'wheel',
  role: 'camera' as const,
  volume: {
    key: 'v1',
    basis: 'uuid' as const,
    uuid: '1A2B-3C4D',
    serial: null,
    label: 'WHEEL',
    fileSystem: 'exfat',
    sizeInBytes: 1000,
  },
  mount: { path: '/media/wheel', mountId: '41', device: '8:1' },
  fingerprint: 'f1',
  litterCount: 0,
  facts: 'read' as const,
  parcels: [{ firstPath: 'a.mov', fileCount: 1, sizeInBytes: 100 }],
  destinations: { primary: null },
  findings: [],
};

it('waits a minute, then two, then four, from when the failure was seen, however often the roll changes meanwhile', () => {
  const clock = new RetryClock();
  for (const [times, minutes] of [
    [1, 1],
    [2, 2],
    [3, 4],
  ] as const) {
    const roll = failing(times);
    expect(clock.isDue(roll, 0)).toBe(false);
    expect(clock.isDue({ ...roll, changedAt: '2026-11-25T10:09:00.000Z' }, minutes * MINUTE)).toBe(false);
    expect(clock.isDue({ ...roll, changedAt: '2026-11-25T10:09:00.000Z' }, minutes * MINUTE + 1)).toBe(true);
  }
});

it('gives up after six times, and does not try what cannot be made now', () => {
  const clock = new RetryClock();
  const often = failing(7);
  clock.isDue(often, 0);
  expect(clock.isDue(often, 1000 * MINUTE)).toBe(false);
  const away = { ...failing(1), mount: null };
  clock.isDue(away, 0);
  expect(clock.isDue(away, 1000 * MINUTE)).toBe(false);
});
