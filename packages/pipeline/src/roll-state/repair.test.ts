import type { Failure, Roll } from '@quayside/shoot';
import { describe, expect, it } from 'vitest';
import { activityOf } from './activity.ts';
import { maySleep } from './may-sleep.ts';
import type { RollEvent } from './roll-event.ts';
import {
  after,
  back,
  clearRoll,
  copied,
  FULL,
  listedRoll,
  MISMATCH,
  openRoll,
  readBack,
  sealed,
} from './roll.test-support.ts';
import { wantedRuns } from './wanted-runs.ts';

const steps = (roll: Roll): string[] => wantedRuns(roll).map((run) => run.id.replace(`-${roll.id}`, ''));
const work = (roll: Roll): string[] => steps(roll).filter((id) => !id.startsWith('notification'));
const left: RollEvent = { type: 'volumeLeft' };
const LATER: Failure = { code: 'COPIES_AWAY', sentence: 'They are away.', retry: 'later' };

function recopied(outcome: Record<string, Failure | null>, fromFailure: Failure | null = null): RollEvent {
  return { type: 'parcelRecopied', visit: 1, parcel: 0, from: 'backup', fromFailure, outcome, findings: [] };
}

/** One parcel, proven at `backup`, and bad at `primary`. */
function halfBad(repairLimit = 2): Roll {
  return after(
    openRoll({ ...listedRoll(1), repairLimit }),
    copied(0),
    readBack(0, 'backup'),
    readBack(0, 'primary', MISMATCH),
  );
}

describe('a copy that failed its verification', () => {
  it('is made anew from the drive by itself, and read back again', () => {
    const again = halfBad();
    expect(work(again)).toEqual(['ingest-1-0-1-primary', 'seal-1-0-backup']);
    expect(work(after(again, copied(0), readBack(0, 'primary')))).toContain('seal-1-0-primary');
  });

  it('is made anew as often as is allowed, and then holds the roll with its failure until somebody asks', () => {
    const failing = [copied(0), readBack(0, 'primary', MISMATCH)];
    const spent = after(halfBad(), ...failing, ...failing, sealed('backup'));
    expect(spent.parcels[0]?.copies['primary']).toMatchObject({ state: 'failed', failure: MISMATCH, repairs: 2 });
    expect(work(spent)).toEqual(['clearance-1']);
    expect(spent.clearance.verdict).toBe('hold');
    const asked = after(spent, { type: 'retryRequested', destination: null });
    expect(work(asked)).toEqual(['ingest-1-0-3-primary']);
    expect(work(after(asked, ...failing))).toEqual(['ingest-1-0-4-primary']);
  });

  it('is left alone where no repair is allowed', () => {
    expect(work(after(halfBad(0), sealed('backup')))).toEqual(['clearance-1']);
  });

  it('waits until what has no copy yet is copied', () => {
    const roll = after(openRoll(), copied(0), readBack(0, 'primary', MISMATCH));
    expect(steps(roll)[0]).toBe('ingest-1-1-0-backup-primary');
    expect(steps(after(roll, copied(1)))[0]).toBe('ingest-1-0-1-primary');
  });

  it('is made anew from the proven copy when the drive is away, and the roll stays held for the drive', () => {
    const away = after(halfBad(), sealed('backup'), left);
    expect(work(away)).toEqual(['recopy-1-0-1-backup-primary']);
    expect(activityOf(away)).toBe('interrupted');
    const mended = after(away, recopied({ primary: null }), readBack(0, 'primary'), sealed('primary', 0));
    expect(mended.parcels[0]?.copies['primary']?.state).toBe('verified');
    expect(work(mended)).toEqual([]);
    expect(mended.clearance).toMatchObject({ verdict: 'hold', reasons: [{ code: 'VOLUME_AWAY' }] });
    expect(work(after(mended, back))).toEqual(['clearance-2']);
  });

  it('is made anew from the drive when that comes back first', () => {
    expect(work(after(halfBad(), sealed('backup'), left, back))).toEqual(['ingest-1-0-1-primary']);
  });
});

describe('a destination that comes back after the drive has left', () => {
  it('gets what it lacks from the proven copies', () => {
    const roll = after(openRoll(listedRoll(1)), copied(0, FULL), readBack(0, 'backup'), sealed('backup'), left);
    expect(work(roll)).toEqual([]);
    const returned = after(roll, { type: 'destinationReturned', destination: 'primary' });
    expect(work(returned)).toEqual(['recopy-1-0-1-backup-primary']);
    expect(maySleep(returned)).toBe(false);
  });

  it('waits for the drive where nothing is proven anywhere', () => {
    const roll = after(openRoll(listedRoll(1)), copied(0, FULL), readBack(0, 'backup', MISMATCH), left);
    expect(work(after(roll, { type: 'destinationReturned', destination: 'primary' }))).toEqual([]);
  });

  it('takes another proven copy the next time', () => {
    const three = { ...listedRoll(1), destinations: { primary: null, backup: null, vault: null } };
    const event: RollEvent = {
      type: 'parcelCopied',
      visit: 1,
      parcel: 0,
      outcome: { primary: FULL, backup: null, vault: null },
      findings: [],
    };
    const roll = after(openRoll(three), event, readBack(0, 'backup'), readBack(0, 'vault'), left);
    const once = after(roll, { type: 'destinationReturned', destination: 'primary' });
    expect(work(once)).toContain('recopy-1-0-1-vault-primary');
    const failing = after(once, { ...recopied({ primary: LATER }), from: 'vault' } as RollEvent, { type: 'retryDue' });
    expect(work(failing)).toContain('recopy-1-0-2-backup-primary');
  });
});

describe('a proven copy that turns out to be bad while it is copied on', () => {
  const away = after(halfBad(), sealed('backup'), left);
  const found = after(away, recopied({ primary: null }, MISMATCH));

  it('is no longer proven, and its destination is sealed anew', () => {
    expect(found.parcels[0]?.copies).toMatchObject({
      primary: { state: 'absent', repairs: 1 },
      backup: { state: 'absent', repairs: 1 },
    });
    expect(found.destinations['backup']).toMatchObject({ sealedGeneration: null, sealAttempt: 1 });
    expect(found.wasSealed).toBe(true);
  });

  it('leaves nothing to copy from but the drive', () => {
    expect(work(found)).toEqual([]);
    expect(work(after(found, back))).toEqual(['ingest-1-0-2-backup-primary']);
  });

  it('takes the verdict of a roll away that was clear', () => {
    const roll = after(clearRoll(), left);
    expect(roll.clearance.verdict).toBe('clear');
    expect(after(roll, recopied({}, MISMATCH)).clearance.verdict).toBe('hold');
  });
});

it('a judgement that finds known damage takes the copy back and has it made anew', () => {
  const roll = after(clearRoll(), { type: 'recheckRequested' });
  const bad = [{ parcel: 0, destination: 'backup', failure: MISMATCH }];
  const hold = { verdict: 'hold', judgedAt: roll.changedAt, reasons: [{ code: 'X', sentence: 'X.' }] } as const;
  const judged = after(roll, {
    type: 'judged',
    due: 2,
    clearance: { ...hold, reasons: [...hold.reasons] },
    findings: [],
    bad,
  });
  expect(work(judged)).toEqual(['ingest-1-0-1-backup']);
  expect(work(after(judged, copied(0), readBack(0, 'backup')))).toEqual(['seal-1-1-backup']);
});

it('an operator who asks while the drive is away has everything read again, and what is bad made from another copy', () => {
  const roll = after(halfBad(0), sealed('backup'));
  const mended = after(roll, { type: 'retryRequested', destination: 'primary' }, copied(0), readBack(0, 'primary'));
  const held = after(mended, sealed('primary', 1), left);
  const asked = after(held, { type: 'retryRequested', destination: 'backup' });
  expect(work(asked)).toEqual(['checksum-1-0-1-backup']);
  const bad = after({ ...asked, repairLimit: 1 }, readBack(0, 'backup', MISMATCH));
  expect(work(bad)).toEqual(['recopy-1-0-2-primary-backup']);
});
