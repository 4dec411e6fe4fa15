import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Roll } from '@quayside/shoot';
import { after, back, copied, listedRoll, openRoll } from './roll.test-support.ts';
import type { RollEvent } from './roll-event.ts';
import { wantedRuns } from './wanted-runs.ts';

const probed = (isComplete: boolean, visit = 1): RollEvent => ({ type: 'factsRead', visit, isComplete, findings: [] });
const steps = (roll: Roll): readonly string[] => wantedRuns(roll).map(({ step }) => step);
const nextParcel = (roll: Roll): unknown => wantedRuns(roll).find(({ step }) => step === 'ingest')?.inputs['parcel'];
const dueRoll = (): Roll => openRoll({ ...listedRoll(4), facts: 'due' });

describe('the facts of a roll', () => {
  it('come first: copying waits for them, for a time that is part of the run', () => {
    expect(steps(dueRoll())).toEqual(['probe']);
    expect(wantedRuns(dueRoll())[0]?.inputs['withinMs']).toBeGreaterThan(0);
  });

  it('are read beside the copying when their time is over, without a limit', () => {
    const roll = after(dueRoll(), probed(false));
    expect(steps(roll)).toEqual(['probe', 'ingest']);
    expect(wantedRuns(roll)[0]?.inputs['withinMs']).toBeNull();
    expect(steps(after(roll, probed(true)))).toEqual(['ingest']);
  });

  it('once read, give the shoot a moment to say what ran together, and then copying begins with that', () => {
    const roll = after(dueRoll(), probed(true));
    expect(steps(roll)).toEqual([]);
    expect(nextParcel(after(roll, { type: 'ordered', visit: 1, order: [3] }))).toBe(3);
    expect(nextParcel(after(roll, { type: 'ordered', visit: 1, order: [] }))).toBe(0);
  });

  it('once read, are not asked for again by a late word of an earlier run', () => {
    expect(after(dueRoll(), probed(true), probed(false)).facts).toBe('placing');
    expect(after(dueRoll(), probed(false), probed(true), probed(false)).facts).toBe('read');
  });

  it('of an earlier visit are let pass, and a drive that is away is not asked', () => {
    expect(after(dueRoll(), probed(true, 7)).facts).toBe('due');
    expect(steps(after(dueRoll(), { type: 'volumeLeft' }))).not.toContain('probe');
    expect(steps(after(dueRoll(), { type: 'volumeLeft' }, back))).toContain('probe');
  });
});

describe('the order of parcels', () => {
  it('is that of the names until it is told otherwise', () => {
    expect(nextParcel(openRoll(listedRoll(4)))).toBe(0);
  });

  it('follows what it is told, and what is not named follows in its own order', () => {
    let roll = after(openRoll(listedRoll(4)), { type: 'ordered', visit: 1, order: [2, 3] });
    const seen: unknown[] = [];
    for (let next = nextParcel(roll); typeof next === 'number'; next = nextParcel(roll)) {
      seen.push(next);
      roll = after(roll, copied(next));
    }
    expect(seen).toEqual([2, 3, 0, 1]);
  });

  it('changes nothing when it stays, so no work is asked for again', () => {
    const roll = after(openRoll(listedRoll(4)), { type: 'ordered', visit: 1, order: [2] });
    expect(after(roll, { type: 'ordered', visit: 1, order: [2] })).toBe(roll);
  });

  it('never leaves a parcel out, whatever it names', () => {
    fc.assert(
      fc.property(fc.array(fc.nat({ max: 9 }), { maxLength: 8 }), (order) => {
        let roll = after(openRoll(listedRoll(5)), { type: 'ordered', visit: 1, order });
        const seen: number[] = [];
        for (let next = nextParcel(roll); typeof next === 'number'; next = nextParcel(roll)) {
          seen.push(next);
          roll = after(roll, copied(next));
        }
        expect(seen.toSorted((one, other) => one - other)).toEqual([0, 1, 2, 3, 4]);
      }),
    );
  });
});
