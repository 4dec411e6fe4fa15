import type { Failure, Roll } from '@quayside/shoot';
import { describe, expect, it } from 'vitest';
import { activityOf } from './activity.ts';
import { advance } from './advance.ts';
import { announce } from './announce.ts';
import {
  after,
  back,
  CLEAR,
  clearRoll,
  copied,
  FULL,
  HELD,
  isOurs,
  listedRoll,
  MISMATCH,
  NOW,
  openRoll,
  readBack,
  sealed,
} from './roll.test-support.ts';
import { wantedRuns } from './wanted-runs.ts';

const steps = (roll: Roll): string[] => wantedRuns(roll).map((run) => run.id.replace(`-${roll.id}`, ''));

describe('a roll on its way', () => {
  it('is held while it is copied, one parcel at a time and in order', () => {
    const roll = openRoll();
    expect(roll.clearance).toMatchObject({ verdict: 'hold', reasons: [{ code: 'IN_PROGRESS' }] });
    expect(steps(roll)).toEqual(['ingest-1-0-0-backup-primary']);
    expect(activityOf(roll)).toBe('waiting');
  });

  it('reads one parcel back while it copies the next', () => {
    expect(steps(after(openRoll(), copied(0)))).toEqual([
      'ingest-1-1-0-backup-primary',
      'checksum-1-0-0-backup',
      'checksum-1-0-0-primary',
    ]);
  });

  it('is sealed at a destination as soon as everything is proven there', () => {
    const roll = after(openRoll(listedRoll(1)), copied(0), readBack(0, 'primary'));
    expect(steps(roll)).toEqual(['checksum-1-0-0-backup', 'seal-1-0-primary']);
  });

  it('is judged only when every destination is at rest', () => {
    const roll = after(
      openRoll(listedRoll(1)),
      copied(0),
      readBack(0, 'primary'),
      readBack(0, 'backup'),
      sealed('primary'),
    );
    expect(steps(roll)).toEqual(['seal-1-0-backup']);
    expect(steps(after(roll, sealed('backup')))).toEqual(['clearance-1']);
  });

  it('tells people once when it turns clear, and then wants nothing', () => {
    const roll = clearRoll();
    expect(steps(roll)).toEqual(['notification-visit-1-clear']);
    expect(steps(after(roll, { type: 'told', matter: 'visit-1-clear' }))).toEqual([]);
    expect(activityOf(roll)).toBe('resting');
  });

  it('never makes a verdict wait for a message that does not get through', () => {
    const again = after(clearRoll(), { type: 'recheckRequested' });
    expect(steps(again)).toContain('clearance-2');
    expect(steps(after(again, { type: 'judged', due: 2, clearance: HELD, findings: [] }))).toEqual([
      'notification-visit-1-hold-copy-gone',
    ]);
  });

  it('asks for the same runs again when asked again, so that a lost queue is mended', () => {
    expect(wantedRuns(openRoll())).toEqual(wantedRuns(openRoll()));
  });
});

describe('a verdict', () => {
  it('is not taken when something happened while it was made', () => {
    const roll = after(clearRoll(), { type: 'recheckRequested' });
    const late = after(
      roll,
      { type: 'volumeChanged' },
      { type: 'judged', due: roll.judgementDue, clearance: CLEAR, findings: [] },
    );
    expect(late.clearance.verdict).toBe('hold');
  });

  it('is never clear while the drive is away', () => {
    const roll = after(
      openRoll(listedRoll(1)),
      copied(0),
      readBack(0, 'primary'),
      readBack(0, 'backup'),
      sealed('primary'),
      sealed('backup'),
    );
    const judged = after(
      { ...roll, mount: null },
      { type: 'judged', due: roll.judgementDue, clearance: CLEAR, findings: [] },
    );
    expect(judged.clearance.verdict).toBe('hold');
  });

  it('stays clear when the drive is taken away after it was given', () => {
    expect(after(clearRoll(), { type: 'volumeLeft' }).clearance.verdict).toBe('clear');
  });

  it('stays clear when the drive is taken away just while it is looked at again', () => {
    expect(after(clearRoll(), { type: 'recheckRequested' }, { type: 'volumeLeft' }).clearance.verdict).toBe('clear');
  });

  it('is given anew when the drive is back', () => {
    const roll = after(clearRoll(), { type: 'volumeLeft' }, back);
    expect(roll.clearance).toMatchObject({ verdict: 'hold', reasons: [{ code: 'JUDGEMENT_DUE' }] });
    expect(steps(roll)).toEqual(['clearance-2']);
  });

  it('can be asked for again at rest without losing the standing one', () => {
    const roll = after(clearRoll(), { type: 'recheckRequested' });
    expect(roll.clearance.verdict).toBe('clear');
    expect(steps(roll)).toContain('clearance-2');
    expect(after(roll, { type: 'judged', due: 2, clearance: HELD, findings: [] }).clearance.verdict).toBe('hold');
  });

  it('turns to hold at once when the content of the drive changes', () => {
    expect(after(clearRoll(), { type: 'volumeChanged' }).clearance).toMatchObject({
      reasons: [{ code: 'VOLUME_CHANGED' }],
    });
  });

  it('turns to hold when more footage is found on the drive', () => {
    const roll = after(clearRoll(), { type: 'listed', roll: { ...listedRoll(2), fingerprint: 'f2' } });
    expect(roll).toMatchObject({ visit: 2, clearance: { verdict: 'hold' } });
    expect(steps(roll)).toEqual(['ingest-2-0-0-backup-primary']);
  });
});

const types = (before: Roll | null, now: Roll): string[] => announce(before, now, NOW).map((event) => event.type);

describe('what listeners hear', () => {
  const told = after(clearRoll(), { type: 'told', matter: 'visit-1-clear' });
  const due = after(told, { type: 'recheckRequested' });

  it('is the verdict when it is given', () => {
    const waiting = { ...clearRoll(), clearance: openRoll().clearance, judged: 0 };
    expect(types(waiting, clearRoll())).toEqual(['roll.clear']);
  });

  it('is nothing when a recheck finds the same', () => {
    expect(types(due, after(due, { type: 'judged', due: 2, clearance: CLEAR, findings: [] }))).toEqual([]);
  });

  it('is the hold when a recheck finds otherwise', () => {
    expect(types(due, after(due, { type: 'judged', due: 2, clearance: HELD, findings: [] }))).toEqual(['roll.hold']);
  });
});

describe('a drive that goes away', () => {
  it('interrupts the roll, keeps what is written and wants no copying until it is back', () => {
    const roll = after(
      openRoll(),
      copied(0),
      { type: 'parcelStarted', visit: 1, parcel: 1, destinations: ['primary', 'backup'] },
      { type: 'volumeLeft' },
    );
    expect(activityOf(roll)).toBe('interrupted');
    expect(roll.parcels[1]?.copies['primary']?.state).toBe('absent');
    expect(steps(roll).filter((id) => !id.startsWith('notification'))).toEqual([
      'checksum-1-0-0-backup',
      'checksum-1-0-0-primary',
    ]);
    expect(steps(after(roll, back))).toContain('ingest-1-1-0-backup-primary');
  });

  it('keeps the reasons it was held for beside its being away', () => {
    const roll = after(
      openRoll(listedRoll(1)),
      copied(0),
      readBack(0, 'primary', MISMATCH),
      readBack(0, 'backup'),
      sealed('backup'),
    );
    const judged = after(
      roll,
      { type: 'judged', due: roll.judgementDue, clearance: HELD, findings: [] },
      { type: 'volumeLeft' },
    );
    expect(judged.clearance).toMatchObject({ reasons: [{ code: 'VOLUME_AWAY' }, { code: 'COPY_GONE' }] });
  });
});

describe('a failed copy', () => {
  const failed = after(
    openRoll({ ...listedRoll(1), repairLimit: 0 }),
    copied(0),
    readBack(0, 'primary', MISMATCH),
    readBack(0, 'backup'),
    sealed('backup'),
  );

  it('is not tried again by itself where no repair is allowed, and the roll is judged without it', () => {
    expect(steps(failed)).toEqual(['clearance-1']);
  });

  it('is made again on request, under a new identity, and the roll is sealed again', () => {
    const again = after(failed, { type: 'retryRequested', destination: null });
    expect(steps(again)).toEqual(['ingest-1-0-1-primary']);
    expect(steps(after(again, copied(0), readBack(0, 'primary')))).toEqual(['seal-1-1-primary']);
  });

  it('is tried again by itself when its cause may pass, and when the drive is plugged in anew', () => {
    const later: Failure = { code: 'DESTINATION_WRITE_FAILED', sentence: 'No.', retry: 'later' };
    const roll = after(openRoll(listedRoll(1)), copied(0, later), readBack(0, 'backup'), sealed('backup'));
    expect(steps(after(roll, { type: 'retryDue' }))).toEqual(['ingest-1-0-1-primary']);
    expect(steps(after(roll, { type: 'volumeLeft' }, back))).toContain('ingest-1-0-1-primary');
    expect(after(failed, { type: 'retryDue' })).toBe(failed);
  });

  it('that nobody noticed (a copy that is gone) is gone through again on request, with a new seal', () => {
    const roll = after(clearRoll(), { type: 'recheckRequested' });
    const held = after(roll, { type: 'judged', due: 2, clearance: HELD, findings: [] });
    const again = after(held, { type: 'retryRequested', destination: 'backup' });
    expect(steps(again)).toContain('ingest-1-0-1-backup');
    expect(steps(after(again, copied(0), readBack(0, 'backup')))).toEqual(['seal-1-1-backup']);
    expect(after(clearRoll(), { type: 'retryRequested', destination: null })).toEqual(clearRoll());
  });

  it('whose destination could not be sealed, since nothing on record proves it, is gone through again on request', () => {
    const failure: Failure = { code: 'NOTHING_PROVEN', sentence: 'Nothing is proven.', retry: 'never' };
    const unsealed = after(
      openRoll(listedRoll(1)),
      copied(0),
      readBack(0, 'primary'),
      readBack(0, 'backup'),
      { type: 'sealFailed', visit: 1, destination: 'primary', attempt: 0, failure },
      sealed('backup'),
    );
    const again = after(unsealed, { type: 'retryRequested', destination: null });
    expect(steps(again)).toEqual(['ingest-1-0-1-primary']);
    expect(steps(after(again, copied(0), readBack(0, 'primary')))).toEqual(['seal-1-1-primary']);
    const away = after(unsealed, { type: 'volumeLeft' }, { type: 'retryRequested', destination: null });
    expect(steps(away)).toContain('checksum-1-0-1-primary');
  });

  it('leaves the sound destinations alone', () => {
    const again = after(failed, { type: 'retryRequested', destination: null });
    expect(again.destinations['backup']?.sealedGeneration).toBe(1);
  });

  it('ignores a seal that was begun before the retry', () => {
    const again = after(failed, { type: 'retryRequested', destination: 'primary' }, sealed('primary', 0));
    expect(again.destinations['primary']?.sealedGeneration).toBeNull();
  });

  it('goes on by itself when it only waited for its destination', () => {
    const full = after(openRoll(listedRoll(1)), copied(0, FULL), readBack(0, 'backup'), sealed('backup'));
    expect(steps(after(full, { type: 'destinationReturned', destination: 'primary' }))).toEqual([
      'ingest-1-0-1-primary',
    ]);
    expect(after(full, { type: 'destinationReturned', destination: 'backup' })).toBe(full);
  });

  it('lets a skipped destination take the roll when it is retried', () => {
    const skipped = openRoll({ ...listedRoll(1), destinations: { primary: FULL, backup: null } });
    expect(steps(skipped)).toEqual(['ingest-1-0-0-backup']);
    expect(steps(after(skipped, { type: 'retryRequested', destination: 'primary' }))).toEqual([
      'ingest-1-0-0-backup-primary',
    ]);
  });
});

describe('moving to another shoot', () => {
  it('wants nothing but the move until it is done', () => {
    const moving = after(openRoll(), copied(0), { type: 'moveRequested', shootId: 'pottery-class' });
    expect(steps(moving)).toEqual(['move-pottery-class']);
    expect(after(moving, { type: 'moved', shootId: 'pottery-class' })).toMatchObject({
      shootId: 'pottery-class',
      movingTo: null,
    });
  });

  it('is refused for a roll that was sealed on an earlier visit', () => {
    const roll = after(clearRoll(), { type: 'listed', roll: { ...listedRoll(2), fingerprint: 'f2' } });
    expect(after(roll, { type: 'moveRequested', shootId: 'pottery-class' })).toBe(roll);
  });

  it('is refused for a roll that is sealed anywhere', () => {
    const roll = clearRoll();
    expect(after(roll, { type: 'moveRequested', shootId: 'pottery-class' })).toBe(roll);
  });
});

it('an event about an earlier visit changes nothing', () => {
  const roll = after(openRoll(), { type: 'listed', roll: { ...listedRoll(2), fingerprint: 'f2' } });
  expect(after(roll, copied(0, null, 1))).toBe(roll);
});

it('an event about an unknown roll is refused with a sentence', () => {
  try {
    advance(null, { type: 'volumeLeft' }, NOW);
    expect.unreachable();
  } catch (error) {
    expect(isOurs(error)).toBe(true);
  }
});
