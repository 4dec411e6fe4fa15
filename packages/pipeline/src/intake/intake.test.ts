import type { FileEntry } from '@quayside/shoot';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { copied, FULL, listedRoll, openRoll, after } from '../roll-state/roll.test-support.ts';
import { matchRoll } from './match-roll.ts';
import { planParcels } from './plan-parcels.ts';
import { bytesStillToCome, reserveSpace } from './reserve-space.ts';

const file = (path: string, sizeInBytes = 10, modifiedMs = 1000): FileEntry => ({ path, sizeInBytes, modifiedMs });

describe('planning parcels', () => {
  it('puts neighbours together until a limit is met, and a large file alone', () => {
    const files = [file('a', 3), file('b', 3), file('c', 90), file('d', 1), file('e', 1), file('f', 1)];
    const parcels = planParcels(files, { bytes: 10, files: 2 }).map((parcel) => parcel.map(({ path }) => path));
    expect(parcels).toEqual([['a', 'b'], ['c'], ['d', 'e'], ['f']]);
  });

  it('keeps every file once, in order, within the limits', () => {
    const sizes = fc.array(fc.integer({ min: 0, max: 50 }), { maxLength: 60 });
    fc.assert(
      fc.property(sizes, fc.integer({ min: 1, max: 80 }), fc.integer({ min: 1, max: 9 }), (all, bytes, most) => {
        const files = all.map((size, index) => file(String(index), size));
        const parcels = planParcels(files, { bytes, files: most });
        expect(parcels.flat()).toEqual(files);
        for (const parcel of parcels) {
          expect(parcel.length).toBeLessThanOrEqual(most);
          expect(parcel.length === 1 || parcel.reduce((sum, { sizeInBytes }) => sum + sizeInBytes, 0) <= bytes).toBe(
            true,
          );
        }
      }),
    );
  });
});

describe('finding the roll that a volume goes on with', () => {
  const known = [
    { id: 'old', openedAt: '2026-11-01', files: [file('A'), file('B')] },
    { id: 'new', openedAt: '2026-11-02', files: [file('A'), file('C')] },
  ];
  it('goes on with a roll that shares a file', () => expect(matchRoll([file('B'), file('X')], known)).toBe('old'));
  it('takes the latest of several', () => expect(matchRoll([file('A')], known)).toBe('new'));
  it('opens a new one when a name is there again with another size', () =>
    expect(matchRoll([file('A', 11)], known)).toBeNull());
  it('opens a new one when a name is there again with another time', () =>
    expect(matchRoll([file('A', 10, 2000)], known)).toBeNull());
  it('opens a new one for other names', () => expect(matchRoll([file('Z')], known)).toBeNull());
});

describe('reserving space', () => {
  const space = { destination: 'primary', freeBytes: 1000, keepFreeBytes: 100 };
  it('counts what other rolls have still to bring', () => {
    const other = openRoll();
    expect(bytesStillToCome(other, 'primary')).toBe(200);
    expect(reserveSpace(700, space, [other])).toBeNull();
    expect(reserveSpace(701, space, [other])).toMatchObject({ code: 'DESTINATION_TOO_SMALL', retry: 'destination' });
  });
  it('no longer counts what is written', () => {
    expect(bytesStillToCome(after(openRoll(), copied(0)), 'primary')).toBe(100);
  });
  it('does not count rolls that the destination has skipped', () => {
    expect(bytesStillToCome(openRoll({ ...listedRoll(), destinations: { primary: FULL } }), 'primary')).toBe(0);
  });
});
