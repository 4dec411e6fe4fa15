import { describe, expect, it } from 'vitest';
import { advance } from './advance.ts';
import type { RecordedRoll, RollEvent } from './roll-event.ts';
import {
  after,
  back,
  CLEAR,
  clearRoll,
  copied,
  listedRoll,
  NOW,
  openRoll,
  readBack,
  recordedRoll,
} from './roll.test-support.ts';
import { wantedRuns } from './wanted-runs.ts';

const LATER = '2026-11-25T12:00:00.000Z';
const found = (change: Partial<RecordedRoll> = {}): RollEvent => ({
  type: 'recordFound',
  record: recordedRoll(change),
});
const at = (generation: number): RecordedRoll['destinations'][string] => ({ generation, readBackAt: NOW });
const away = after(clearRoll(), { type: 'volumeLeft' });

describe('a record of a roll that the view does not know', () => {
  it('opens it, proven as the record says and on hold until its drive is judged', () => {
    const roll = advance(null, found({ visit: 3, destinations: { primary: at(4), backup: at(6) } }), NOW);
    expect(roll).toMatchObject({
      visit: 3,
      mount: null,
      wasSealed: true,
      clearance: { verdict: 'hold', reasons: [{ code: 'VOLUME_AWAY' }] },
      destinations: { primary: { sealedGeneration: 4 }, backup: { sealedGeneration: 6 } },
    });
    // Nobody is told that a roll is known again.
    expect(wantedRuns(roll)).toEqual([]);
    const there = after(roll, back);
    expect(wantedRuns(there).map(({ step }) => step)).toEqual(['probe', 'clearance']);
    expect(after(there, { type: 'judged', due: there.judgementDue, clearance: CLEAR, findings: [] }).clearance).toEqual(
      CLEAR,
    );
  });

  it('has what one destination lacks made from another, and sealed there', () => {
    const [parcel] = recordedRoll().parcels;
    if (parcel === undefined) throw new Error('a record has files');
    const roll = advance(null, found({ parcels: [parcel, { ...parcel, provenAt: ['primary'] }] }), NOW);
    expect(roll.destinations).toMatchObject({ primary: { sealedGeneration: 1 }, backup: { sealedGeneration: null } });
    expect(wantedRuns(roll)).toMatchObject([
      { step: 'recopy', inputs: { parcel: 1, from: 'primary', destinations: ['backup'] } },
    ]);
  });
});

describe('a record of a roll that the view knows', () => {
  it('is taken over when its drive is away and it rests, which takes clear away', () => {
    expect(away.clearance.verdict).toBe('clear');
    const taken = after(away, found({ shootId: 'kiln-day', destinations: { primary: at(2), backup: at(2) } }));
    expect(taken).toMatchObject({
      shootId: 'kiln-day',
      absences: 1,
      clearance: { verdict: 'hold' },
      destinations: { primary: { sealedGeneration: 2, sealAttempt: 1 } },
    });
    expect(taken.judged).toBe(taken.judgementDue);
  });

  it('is not while its drive is there', () => {
    expect(after(clearRoll(), found({ visit: 9, sealedAt: LATER }))).toMatchObject({ visit: 1, clearance: CLEAR });
  });

  it('is not while anything of it is under way, unless nothing has happened since the record was written', () => {
    const half = after(openRoll(listedRoll(2)), copied(0), readBack(0, 'primary'), { type: 'volumeLeft' });
    expect(after(half, found({ visit: 2 }))).toBe(half);
    expect(after(half, found({ sealedAt: LATER }))).toMatchObject({
      destinations: { backup: { sealedGeneration: 1 } },
    });
  });

  it('is not while the roll moves to another shoot', () => {
    const moving = { ...away, movingTo: 'kiln-day' };
    expect(after(moving, found({ sealedAt: LATER }))).toBe(moving);
  });

  it('never takes the visit back, so that what an earlier one still does stays without effect', () => {
    expect(after({ ...away, visit: 5 }, found({ visit: 2 })).visit).toBe(5);
  });
});
