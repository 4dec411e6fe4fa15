import type { Failure, Finding, Roll } from '@quayside/shoot';
import { describe, expect, it } from 'vitest';
import type { RetryWish } from './roll-event.ts';
import {
  after,
  back,
  clearRoll,
  copied,
  FULL,
  HELD,
  listedRoll,
  MISMATCH,
  NOW,
  openRoll,
  readBack,
} from './roll.test-support.ts';
import { wantedRuns } from './wanted-runs.ts';

const NO_ROOM_FOR_MANIFEST: Failure = { code: 'DESTINATION_IO_ERROR', sentence: 'No.', retry: 'destination' };
const MISSING: Finding = {
  code: 'FACTS_MISSING',
  severity: 'warning',
  subject: { kind: 'clip', id: 'wheel-20261125-abc123', path: 'CLIPS/0.MOV' },
  why: 'What it is could not be read.',
  remedy: 'Look at it.',
  at: NOW,
};

/** One parcel that could not be written at `primary`, one that was bad there, and a manifest that failed at `backup`. */
function failedInThreeSteps(): Roll {
  return after(
    openRoll({ ...listedRoll(2), repairLimit: 0 }),
    copied(0, FULL),
    copied(1),
    readBack(1, 'primary', MISMATCH),
    readBack(0, 'backup'),
    readBack(1, 'backup'),
    { type: 'sealFailed', visit: 1, destination: 'backup', attempt: 0, failure: NO_ROOM_FOR_MANIFEST },
  );
}

function retried(roll: Roll, wish: Partial<RetryWish>): readonly string[] {
  const next = after(roll, { type: 'retryRequested', destination: null, ...wish });
  const copies = next.parcels.flatMap(({ index, copies: at }) =>
    Object.keys(at)
      .filter((name) => (at[name]?.attempt ?? 0) > (roll.parcels[index]?.copies[name]?.attempt ?? 0))
      .map((name) => `copy ${index} ${name}`),
  );
  const seals = Object.keys(next.destinations).filter(
    (name) => roll.destinations[name]?.failure !== null && next.destinations[name]?.failure === null,
  );
  return [...copies.toSorted(), ...seals.map((name) => `seal ${name}`)];
}

describe('a retry', () => {
  it('of all takes up what failed in every step', () => {
    expect(retried(failedInThreeSteps(), {})).toEqual(['copy 0 primary', 'copy 1 primary', 'seal backup']);
  });

  it.each([
    ['ingest', ['copy 0 primary']],
    ['checksum', ['copy 1 primary']],
    ['seal', ['seal backup']],
    ['probe', []],
  ] as const)('of step "%s" takes up what failed in it, and nothing else', (step, expected) => {
    expect(retried(failedInThreeSteps(), { step })).toEqual(expected);
  });

  it('of one destination leaves the other as it is, also under the filter of a step', () => {
    expect(retried(failedInThreeSteps(), { destination: 'backup' })).toEqual(['seal backup']);
    expect(retried(failedInThreeSteps(), { destination: 'backup', step: 'ingest' })).toEqual([]);
  });

  it('of one run takes up its parcel at its destinations', () => {
    const run = { parcel: 1, destinations: ['primary'] };
    expect(retried(failedInThreeSteps(), { run })).toEqual(['copy 1 primary']);
    expect(retried(failedInThreeSteps(), { run: { parcel: 0, destinations: ['backup'] } })).toEqual([]);
  });

  it('knows a read-back that failed by itself (its destination was away) from a copy that could not be made', () => {
    const roll = after(openRoll(listedRoll(1)), copied(0), readBack(0, 'primary', FULL));
    expect(retried(roll, { step: 'ingest' })).toEqual([]);
    expect(retried(roll, { step: 'checksum' })).toEqual(['copy 0 primary']);
  });

  it('of a destination that took nothing in is one of step "ingest"', () => {
    const skipped = openRoll({ ...listedRoll(1), destinations: { primary: FULL, backup: null } });
    expect(after(skipped, { type: 'retryRequested', destination: null, step: 'seal' })).toBe(skipped);
    expect(after(skipped, { type: 'retryRequested', destination: null, step: 'ingest' })).toMatchObject({
      destinations: { primary: { standing: 'taking', failure: null } },
    });
  });

  it('that changes nothing gives the same roll', () => {
    const roll = clearRoll();
    for (const step of ['ingest', 'checksum', 'seal', 'clearance', 'probe'] as const)
      expect(after(roll, { type: 'retryRequested', destination: null, step })).toBe(roll);
  });
});

describe('a roll that holds though nothing failed', () => {
  const held = after(
    clearRoll(),
    { type: 'recheckRequested' },
    {
      type: 'judged',
      due: clearRoll().judgementDue + 1,
      clearance: HELD,
      findings: [],
    },
  );

  it('is gone through when all of it is asked for, and not under a filter', () => {
    expect(retried(held, {})).toEqual(['copy 0 backup', 'copy 0 primary']);
    expect(retried(held, { step: 'checksum' })).toEqual([]);
    expect(retried(held, { run: { parcel: 0, destinations: ['backup'] } })).toEqual([]);
  });

  it('is judged again, without being read, by step "clearance"', () => {
    const again = after(held, { type: 'retryRequested', destination: null, step: 'clearance' });
    expect(wantedRuns(again).map(({ step }) => step)).toContain('clearance');
    expect(again.clearance).toEqual(HELD);
    expect(again.parcels).toBe(held.parcels);
  });

  it('is gone through among many for what is on the media, and not for waiting for its drive', () => {
    expect(retried(held, { isOneOfMany: true })).toEqual(['copy 0 backup', 'copy 0 primary']);
    const waiting = after(clearRoll(), { type: 'volumeLeft' }, { type: 'volumeChanged' });
    expect(waiting.clearance).toMatchObject({ verdict: 'hold', reasons: [{ code: 'VOLUME_AWAY' }] });
    expect(retried(waiting, { isOneOfMany: true })).toEqual([]);
    expect(retried(waiting, {})).toEqual(['copy 0 backup', 'copy 0 primary']);
  });
});

describe('facts that could not be read', () => {
  const roll = { ...clearRoll(), findings: [MISSING] };

  it('are read again, which leaves the verdict as it is', () => {
    const again = after(roll, { type: 'retryRequested', destination: null });
    expect(again).toMatchObject({ facts: 'partly', findings: [], clearance: { verdict: 'clear' } });
    expect(wantedRuns(again).map(({ step }) => step)).toContain('probe');
    expect(after(again, { type: 'factsRead', visit: 1, isComplete: true, findings: [MISSING] })).toMatchObject({
      facts: 'read',
      findings: [MISSING],
    });
  });

  it('wait for the drive when it is away', () => {
    const again = after(roll, { type: 'volumeLeft' }, { type: 'retryRequested', destination: null, step: 'probe' });
    expect(wantedRuns(again).map(({ step }) => step)).not.toContain('probe');
    expect(wantedRuns(after(again, back)).map(({ step }) => step)).toContain('probe');
  });

  it('are no destination’s', () => {
    expect(after(roll, { type: 'retryRequested', destination: 'primary' })).toBe(roll);
  });
});
