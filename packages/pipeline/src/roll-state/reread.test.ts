import type { Roll } from '@quayside/shoot';
import { describe, expect, it } from 'vitest';
import { isBeingTakenIn } from '../keeping/is-being-taken-in.ts';
import { activityOf } from './activity.ts';
import { announce } from './announce.ts';
import { matterToTell } from './matter-to-tell.ts';
import { maySleep } from './may-sleep.ts';
import type { RollEvent } from './roll-event.ts';
import {
  after,
  back,
  CLEAR,
  clearRoll,
  copied,
  listedRoll,
  MISMATCH,
  NOW,
  openRoll,
  readBack,
  sealed,
} from './roll.test-support.ts';
import { wantedRuns } from './wanted-runs.ts';

const SINCE = '2027-03-01T02:00:00.000Z';
const left: RollEvent = { type: 'volumeLeft' };
const asked: RollEvent = { type: 'rereadRequested', destinations: ['backup'], since: SINCE };
const work = (roll: Roll): string[] =>
  wantedRuns(roll)
    .map((run) => run.id.replace(`-${roll.id}`, ''))
    .filter((id) => !id.startsWith('notification'));

function reread(parcel: number, change: Partial<Extract<RollEvent, { type: 'parcelReread' }>> = {}): RollEvent {
  const about = { visit: 1, destination: 'backup', since: SINCE, parcel };
  return { type: 'parcelReread', ...about, badFiles: 0, failure: null, findings: [], ...change };
}

const recorded: Extract<RollEvent, { type: 'rereadRecorded' }> = {
  type: 'rereadRecorded',
  visit: 1,
  destination: 'backup',
  since: SINCE,
  generation: 2,
  readBackAt: SINCE,
};
const bad = reread(0, { badFiles: 1, failure: MISMATCH });
const recopied: Extract<RollEvent, { type: 'parcelRecopied' }> = {
  type: 'parcelRecopied',
  visit: 1,
  parcel: 0,
  from: 'primary',
  fromFailure: null,
  outcome: { backup: null },
  findings: [],
};

/** Clear, its drive long gone, people told: what most of a studio's rolls are. */
function restingRoll(parcels = 1): Roll {
  if (parcels === 1) return after(clearRoll(), left, { type: 'told', matter: 'visit-1-clear' });
  const indexes = Array.from({ length: parcels }, (_, index) => index);
  const proven = indexes.flatMap((index) => [copied(index), readBack(index, 'primary'), readBack(index, 'backup')]);
  const judged: RollEvent = { type: 'judged', due: 1, clearance: CLEAR, findings: [] };
  const ended = [sealed('primary'), sealed('backup'), judged, left];
  return after(openRoll(listedRoll(parcels)), ...proven, ...ended, { type: 'told', matter: 'visit-1-clear' });
}

describe('a roll that is read again', () => {
  it('goes through its proven parcels in order, then puts it on record, and sleeps again', () => {
    const begun = after(restingRoll(2), asked);
    expect(maySleep(restingRoll(2))).toBe(true);
    expect(work(begun)).toEqual(['reread-1-20270301020000000-0-backup']);
    expect(work(after(begun, reread(0)))).toEqual(['reread-1-20270301020000000-1-backup']);
    expect(work(after(begun, reread(0), reread(1)))).toEqual(['attest-1-20270301020000000-backup']);
    const done = after(begun, reread(0), reread(1), recorded);
    expect(done.destinations['backup']).toMatchObject({
      readBackAt: SINCE,
      sealedGeneration: 1,
      reread: { endedAt: NOW, generation: 2, badFiles: 0 },
    });
    expect(done.clearance).toEqual(CLEAR);
    expect(maySleep(done)).toBe(true);
    expect(announce(begun, done, NOW).map(({ type }) => type)).toEqual(['roll.reread']);
  });

  it('is not begun twice, nor where there is nothing sealed', () => {
    const begun = after(restingRoll(), asked);
    expect(after(begun, { ...asked, since: NOW })).toBe(begun);
    const open = openRoll();
    expect(after(open, asked)).toBe(open);
  });

  it('is not being taken in; one that is copied, proven or made anew is', () => {
    expect(isBeingTakenIn(after(restingRoll(), asked))).toBe(false);
    expect(isBeingTakenIn(clearRoll())).toBe(false);
    expect(isBeingTakenIn(openRoll())).toBe(true);
    expect(isBeingTakenIn(after(openRoll(), copied(0), copied(1)))).toBe(true);
    expect(isBeingTakenIn(after(restingRoll(), asked, bad))).toBe(true);
    expect(isBeingTakenIn(after(openRoll(), left))).toBe(false);
  });

  it('takes no news of an earlier reading, nor of a parcel twice', () => {
    const begun = after(restingRoll(2), asked, reread(0));
    expect(after(begun, reread(0), reread(1, { since: NOW }), { ...recorded, since: NOW })).toBe(begun);
  });

  it('that could not be read to its end is given up, and may be asked for again', () => {
    const failed = after(restingRoll(), asked, {
      type: 'rereadFailed',
      visit: 1,
      destination: 'backup',
      since: SINCE,
      failure: { code: 'DESTINATION_MISSING', sentence: 'It is away.', retry: 'destination' },
      findings: [],
    });
    expect(work(failed)).toEqual([]);
    expect(failed.clearance).toEqual(CLEAR);
    expect(work(after(failed, { ...asked, since: NOW }))).toEqual(['reread-1-20261125100000000-0-backup']);
  });
});

describe('a copy that has rotted since its drive was formatted', () => {
  const found = after(restingRoll(2), asked, bad);

  it('takes the verdict away, with the reason and not for want of the drive, and people are told', () => {
    expect(found.clearance).toMatchObject({
      verdict: 'hold',
      reasons: [{ code: 'CHECKSUM_MISMATCH', destination: 'backup' }, { code: 'IN_PROGRESS' }],
    });
    expect(activityOf(found)).toBe('interrupted');
    expect(matterToTell(found)).toMatchObject({ matter: 'visit-1-bad-backup', severity: 'critical' });
  });

  it('is made anew from the other copy while the reading goes on behind it', () => {
    expect(work(found)).toEqual(['recopy-1-0-1-primary-backup', 'reread-1-20270301020000000-1-backup']);
    const mended = after(found, recopied, readBack(0, 'backup'));
    expect(work(mended)).toEqual(['seal-1-1-backup', 'reread-1-20270301020000000-1-backup']);
  });

  it('leaves the roll clear again when all is proven and judged anew, as of the moment its drive was seen', () => {
    const sealedAgain = after(found, recopied, readBack(0, 'backup'), reread(1), sealed('backup', 1), recorded);
    expect(work(sealedAgain)).toEqual(['clearance-2']);
    expect(maySleep(sealedAgain)).toBe(false);
    const later = '2027-03-01T03:00:00.000Z';
    const clear = after(
      sealedAgain,
      { type: 'told', matter: 'visit-1-bad-backup' },
      {
        type: 'judged',
        due: 2,
        clearance: { verdict: 'clear', judgedAt: later, cautions: [] },
        findings: [],
      },
    );
    expect(clear.clearance).toEqual({
      verdict: 'clear',
      judgedAt: NOW,
      cautions: [expect.stringContaining('made anew')],
    });
    expect(clear.clearedAt).toBeNull();
    expect(matterToTell(clear)?.sentence).not.toContain('recorded over');
    expect(maySleep(after(clear, { type: 'told', matter: 'visit-1-clear' }))).toBe(true);
  });

  it('is judged again and again until it is clear, since no drive comes to ask for it', () => {
    const held = after(found, recopied, readBack(0, 'backup'), reread(1), sealed('backup', 1), recorded, {
      type: 'judged',
      due: 2,
      clearance: {
        verdict: 'hold',
        judgedAt: NOW,
        reasons: [{ code: 'DESTINATION_AWAY', sentence: 'Away.', destination: 'primary' }],
      },
      findings: [],
    });
    expect(maySleep(held)).toBe(false);
    expect(matterToTell(held)?.severity).toBe('warning');
    const again = after(held, { type: 'recheckRequested' });
    expect(work(again)).toEqual(['clearance-3']);
    // What holds it now is no damage.
    expect(matterToTell(again)).toBeNull();
  });

  it('is held for its drive, as any other, once that has come back', () => {
    expect(found.clearedAt).toBe(NOW);
    const returned = after(found, back);
    expect(returned.clearedAt).toBeNull();
    expect(after(returned, left).clearance).toMatchObject({ reasons: [{ code: 'VOLUME_AWAY' }] });
  });

  it('has nothing left to be made from when the other copy turns out bad as well, and people are told to bring the drive', () => {
    expect(matterToTell(found)?.sentence).toContain('made anew from another proven copy');
    const lost = after(found, { ...recopied, outcome: {}, fromFailure: MISMATCH });
    expect(work(lost)).toEqual(['reread-1-20270301020000000-1-backup']);
    expect(lost.clearance.verdict === 'hold' && lost.clearance.reasons.map(({ destination }) => destination)).toEqual([
      'backup',
      'primary',
      undefined,
    ]);
    expect(matterToTell(lost)).toMatchObject({
      matter: 'visit-1-bad-backup-primary',
      sentence: expect.stringContaining('No proven copy of it is left: connect its drive'),
    });
    expect(work(after(lost, back))[0]).toBe('ingest-1-0-1-backup-primary');
  });

  it('may be made anew as often as is allowed, however often it was before', () => {
    const tired: Roll = {
      ...restingRoll(),
      parcels: restingRoll().parcels.map((parcel) => ({
        ...parcel,
        copies: {
          ...parcel.copies,
          backup: { state: 'verified', attempt: 5, failure: null, repairs: 2, partBytes: 0 },
        },
      })),
    };
    expect(work(after(tired, asked, bad))[0]).toBe('recopy-1-0-6-primary-backup');
  });
});

it('a bad copy of a roll whose drive is there is made anew from the drive, and the drive is what it is judged by', () => {
  const found = after(clearRoll(), asked, bad);
  expect(found.clearedAt).toBeNull();
  expect(work(found)).toEqual(['ingest-1-0-1-backup', 'attest-1-20270301020000000-backup']);
  expect(matterToTell(found)?.matter).toBe('visit-1-bad-backup');
  expect(after(found, left).clearance).toMatchObject({
    reasons: [{ code: 'VOLUME_AWAY' }, { code: 'CHECKSUM_MISMATCH' }],
  });
});
