import type { Roll } from '@quayside/shoot';
import { describe, expect, it } from 'vitest';
import { activityOf } from './activity.ts';
import { announce } from './announce.ts';
import { matterToTell } from './matter-to-tell.ts';
import type { RollEvent } from './roll-event.ts';
import { after, back, clearRoll, copied, listedRoll, NOW, openRoll, readBack } from './roll.test-support.ts';
import { rollNumbers } from './time-left.ts';
import { wantedRuns } from './wanted-runs.ts';

const left: RollEvent = { type: 'volumeLeft' };
const silent: RollEvent = { type: 'volumeSilent', mountId: '41' };
const sought: RollEvent = { type: 'volumeSought' };
const underWay = (): Roll =>
  after(openRoll(listedRoll(2)), copied(0), {
    type: 'parcelStarted',
    visit: 1,
    parcel: 1,
    destinations: ['primary', 'backup'],
  });
const codeOf = ({ clearance }: Roll): string =>
  clearance.verdict === 'hold' ? (clearance.reasons[0]?.code ?? '') : 'clear';
const messages = (roll: Roll): string[] =>
  wantedRuns(roll).flatMap((run) => (run.step === 'notification' ? [JSON.stringify(run.inputs['matter'])] : []));
const told = (roll: Roll): Roll => after(roll, { type: 'told', matter: matterToTell(roll)?.matter ?? '' });

describe('a drive that is there and answers no read', () => {
  it('interrupts its roll, says so, and wants no copying', () => {
    const roll = after(underWay(), silent);
    expect(activityOf(roll)).toBe('interrupted');
    expect(codeOf(roll)).toBe('VOLUME_SILENT');
    expect(wantedRuns(roll).some(({ step }) => step === 'ingest')).toBe(false);
    expect(wantedRuns(after(roll, back)).some(({ step }) => step === 'ingest')).toBe(true);
  });

  it('is not meant when it was another mount that fell silent', () => {
    const roll = underWay();
    expect(after(roll, { type: 'volumeSilent', mountId: '40' })).toBe(roll);
  });
});

describe('an interruption', () => {
  it('is told once, however often the roll is looked at, and once more when the drive leaves again', () => {
    const first = after(underWay(), left);
    expect(messages(first)).toEqual(['"visit-1-away-1"']);
    expect(messages(after(told(first), left, silent))).toEqual([]);
    const again = after(told(first), back, left);
    expect(messages(again)).toEqual(['"visit-1-away-2"']);
  });

  it('is told with how far the work stands', () => {
    const roll = after(underWay(), {
      type: 'parcelInterrupted',
      visit: 1,
      parcel: 1,
      partBytes: { primary: 90, backup: 60 },
    });
    // Of 2 parcels of 100 bytes, written and read back at 2 destinations: 800 bytes of work, of which 200 + 150 are done.
    expect(rollNumbers(roll, null).fraction).toBeCloseTo(350 / 800, 9);
    expect(matterToTell(after(roll, left))?.sentence).toContain('43 % of its work is done');
    const [event] = announce(roll, after(roll, left), NOW);
    expect(event).toMatchObject({ type: 'roll.interrupted', sentence: expect.stringContaining('43 %') });
    const written = after(roll, left, back, copied(1));
    expect(written.parcels[1]?.copies).toMatchObject({ primary: { partBytes: 0 }, backup: { partBytes: 0 } });
    expect(rollNumbers(written, null).fraction).toBeCloseTo(0.5, 9);
  });
});

describe('a service that starts', () => {
  it('looks for the drives without telling anybody, and keeps a verdict that stands', () => {
    const roll = after(told(after(underWay(), left)), back, sought);
    expect(codeOf(roll)).toBe('VOLUME_SOUGHT');
    expect(messages(roll)).toEqual([]);
    expect(codeOf(after(roll, back))).toBe('JUDGEMENT_DUE');
    expect(codeOf(after(clearRoll(), sought))).toBe('clear');
  });

  it('tells of a drive that it does not find', () => {
    const roll = after(underWay(), sought, left);
    expect(codeOf(roll)).toBe('VOLUME_AWAY');
    expect(messages(roll)).toEqual(['"visit-1-away-1"']);
  });

  it('says nothing new of a drive that was away before', () => {
    const roll = told(after(underWay(), left));
    expect(after(roll, sought)).toBe(roll);
  });
});

it('what happens while the drive is away leaves the roll waiting for the drive, not for a verdict', () => {
  const roll = told(after(openRoll(listedRoll(1)), copied(0), readBack(0, 'backup'), left));
  const asked = after(roll, { type: 'retryRequested', destination: null });
  expect(codeOf(asked)).toBe('VOLUME_AWAY');
  expect(asked.judged).toBe(asked.judgementDue);
});
