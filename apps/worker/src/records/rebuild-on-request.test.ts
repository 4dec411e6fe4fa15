import { execFileSync } from 'node:child_process';
import { rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { RebuildReport } from '@quayside/job-queue';
import { advance, type RollEvent } from '@quayside/pipeline';
import type { Clearance, Roll } from '@quayside/shoot';
import { describe, expect, it } from 'vitest';
import { mountAt, type Workplace } from '../worker.test-support.ts';
import { rebuildOnRequest } from './rebuild-on-request.ts';
import { rebuildView } from './rebuild-view.ts';
import { FILE, lost, NOW, RECORD, ROLL, SHOOT, STORED } from './records.test-support.ts';
import { type RollRecord, writeRollRecord } from './roll-record.ts';

const LATER = '2026-11-27T10:00:00.000Z';
const MUCH_LATER = '2026-11-28T10:00:00.000Z';
const CLEAR: Clearance = { verdict: 'clear', judgedAt: NOW, cautions: [] };
const BOTH = { primary: [RECORD], backup: [RECORD] };

/** A view that knows what is on record. */
async function known(records: Readonly<Record<string, readonly RollRecord[]>> = BOTH): Promise<Workplace> {
  const workplace = await lost(records);
  await rebuildView(workplace, NOW);
  return workplace;
}

async function change(workplace: Workplace, with_: Partial<Roll>): Promise<Roll> {
  const { after } = await workplace.store.changeRoll(ROLL, (roll) => {
    if (roll === null) throw new Error('the view should know it');
    return { ...roll, ...with_ };
  });
  return after;
}

async function apply(workplace: Workplace, ...events: readonly RollEvent[]): Promise<void> {
  for (const event of events) await workplace.store.changeRoll(ROLL, (roll) => advance(roll, event, NOW));
}

const rebuild = (workplace: Workplace, shootId: string | null = null): Promise<RebuildReport> =>
  rebuildOnRequest(workplace, shootId, LATER);

it('a view that agrees with the records is left as it is, and so is a verdict', async () => {
  const workplace = await known();
  const before = await change(workplace, { clearance: CLEAR });
  expect(await rebuild(workplace)).toEqual({
    sentence: '1 roll is on record and 1 was in the view: they agree.',
    onRecord: 1,
    inView: 1,
    unsealed: 0,
    unread: [],
    rolls: [],
  });
  expect(await workplace.store.roll(ROLL)).toEqual(before);
});

describe('a roll that is on record and not in the view', () => {
  it('is taken over on hold, with its files and its shoot, and told', async () => {
    const other = { ...RECORD, rollId: 'wheel-20261125-fff000' };
    const workplace = await known({ primary: [RECORD, other], backup: [RECORD] });
    const untouched = await workplace.store.roll(other.rollId);
    // As somebody would who loses one key of Redis.
    loseRoll(workplace, ROLL);
    expect(await workplace.store.roll(ROLL)).toBeNull();
    const { rolls, sentence } = await rebuild(workplace);
    expect(sentence).toBe(
      '2 rolls are on record and 1 was in the view: 1 differs, of which 1 was taken over from the records.',
    );
    expect(rolls).toEqual([
      {
        rollId: ROLL,
        shootId: SHOOT,
        tookOver: true,
        differences: [
          {
            kind: 'not-in-view',
            sentence: `Roll ${ROLL} of wheel is on record at primary and backup, and was not in the view.`,
          },
        ],
        outcome: 'It was taken over with 1 file, and holds until its drive is connected and judged.',
      },
    ]);
    expect(await workplace.store.roll(ROLL)).toMatchObject({ visit: 2, mount: null, clearance: { verdict: 'hold' } });
    expect(await workplace.store.parcelFiles(ROLL, 2, 0)).toEqual([FILE]);
    expect(await workplace.store.roll(other.rollId)).toEqual(untouched);
    expect((await rebuild(workplace)).rolls).toEqual([]);
  });

  it('of another shoot is left alone when one shoot is asked for', async () => {
    const workplace = await lost({ primary: [RECORD, { ...RECORD, rollId: 'wheel-2', shootId: 'kiln-day' }] });
    expect((await rebuild(workplace, 'kiln-day')).rolls).toMatchObject([{ rollId: 'wheel-2', tookOver: true }]);
    expect(await workplace.store.roll(ROLL)).toBeNull();
  });

  it('has what one destination lacks made from the other', async () => {
    const more = { ...STORED, path: 'CLIPS/b.mov', storedPath: 'CLIPS/b.mov', sizeInBytes: 100_000_000 };
    const workplace = await lost({ primary: [{ ...RECORD, files: [STORED, more] }], backup: [RECORD] });
    await rebuild(workplace);
    expect(await workplace.store.roll(ROLL)).toMatchObject({
      fingerprint: '',
      fileCount: 2,
      parcels: [
        { copies: { primary: { state: 'verified' }, backup: { state: 'verified' } } },
        { copies: { primary: { state: 'verified' }, backup: { state: 'absent' } } },
      ],
      destinations: { primary: { sealedGeneration: 3 }, backup: { sealedGeneration: null } },
    });
  });
});

describe('a roll whose fields differ', () => {
  it('is taken over when its drive is away and nothing of it is under way; clear is gone with it', async () => {
    const workplace = await known();
    await change(workplace, { clearance: CLEAR, shootId: 'kiln-day', recorder: 'hands', role: 'sound', visit: 1 });
    const { rolls } = await rebuild(workplace);
    expect(rolls.map(({ tookOver }) => tookOver)).toEqual([true]);
    expect(rolls[0]?.differences.map(({ sentence }) => sentence)).toEqual([
      `The view has lost the list of files of roll ${ROLL}.`,
      `Roll ${ROLL}: the shoot is kiln-day in the view and ${SHOOT} on record.`,
      `Roll ${ROLL}: the recorder is hands in the view and wheel on record.`,
      `Roll ${ROLL}: the kind of recorder is sound in the view and camera on record.`,
      `Roll ${ROLL}: the visit is 1 in the view and 2 on record.`,
    ]);
    expect(await workplace.store.roll(ROLL)).toMatchObject({
      shootId: SHOOT,
      recorder: 'wheel',
      role: 'camera',
      clearance: { verdict: 'hold' },
    });
    expect((await rebuild(workplace)).rolls).toEqual([]);
  });

  it('is taken over where the view is behind: a later generation, and files that it does not know', async () => {
    const workplace = await known();
    const more = { ...STORED, path: 'CLIPS/b.mov', storedPath: 'CLIPS/b.mov' };
    const later = { ...RECORD, files: [STORED, more], manifest: { generation: 4, c4: 'c4' } };
    for (const name of ['primary', 'backup']) await writeRollRecord(workplace.destination(name), later);
    const { rolls } = await rebuild(workplace);
    expect(rolls[0]?.differences).toEqual([
      {
        kind: 'differs',
        sentence: `Roll ${ROLL} at primary: the view knows generation 3 of its manifest, the record is of generation 4.`,
      },
      {
        kind: 'differs',
        sentence: `Roll ${ROLL} at backup: the view knows generation 3 of its manifest, the record is of generation 4.`,
      },
      { kind: 'not-in-view', sentence: `Roll ${ROLL}: "CLIPS/b.mov" is on record, and not in the view.` },
    ]);
    const roll = await workplace.store.roll(ROLL);
    expect(roll).toMatchObject({ fileCount: 2, destinations: { primary: { sealedGeneration: 4 } } });
    expect(await workplace.store.rollFiles(roll ?? expect.unreachable())).toHaveLength(2);
  });

  it('that an old view calls half copied is taken over as it was sealed, when its drive is away', async () => {
    const workplace = await known();
    const roll = await workplace.store.roll(ROLL);
    if (roll === null) throw new Error('the view should know it');
    const unsealed = { sealedGeneration: null, readBackAt: null };
    const destinations = Object.fromEntries(
      Object.entries(roll.destinations).map(([name, at]) => [name, { ...at, ...unsealed }]),
    );
    const parcels = roll.parcels.map((parcel) => ({
      ...parcel,
      copies: Object.fromEntries(
        Object.entries(parcel.copies).map(([name, copy]) => [name, { ...copy, state: 'absent' as const }]),
      ),
    }));
    // As a backup of Redis from the middle of the copying has it; one of later is newer than the record.
    await change(workplace, { destinations, parcels, changedAt: MUCH_LATER });
    expect((await rebuild(workplace)).rolls).toEqual([]);
    await change(workplace, { changedAt: RECORD.openedAt });
    const { rolls } = await rebuild(workplace);
    expect(rolls).toMatchObject([{ tookOver: true, differences: [{ kind: 'differs' }, { kind: 'differs' }] }]);
    expect(rolls[0]?.differences[0]?.sentence).toBe(
      `Roll ${ROLL} is on record at primary (generation 3), and the view knows of nothing sealed there.`,
    );
    expect(await workplace.store.roll(ROLL)).toMatchObject({
      parcels: [{ copies: { primary: { state: 'verified' } } }],
      destinations: { primary: { sealedGeneration: 3 } },
    });
  });

  it('is judged again, and nothing of it taken over, while its drive is there', async () => {
    const workplace = await known();
    const mount = mountAt(workplace.drive);
    const before = await change(workplace, { mount, clearance: CLEAR, recorder: 'hands' });
    const { rolls } = await rebuild(workplace);
    expect(rolls).toMatchObject([{ tookOver: false, outcome: expect.stringContaining('judged from the media') }]);
    const after = await workplace.store.roll(ROLL);
    expect(after).toMatchObject({ recorder: 'hands', mount, judgementDue: before.judgementDue + 1 });
  });

  it('is left as it is while it is under way, with whatever is newer in it', async () => {
    const workplace = await known();
    // Its drive came with a new file, was taken in and half copied, and left.
    const files = [FILE, { ...FILE, path: 'CLIPS/new.mov' }];
    const roll = await workplace.store.roll(ROLL);
    if (roll === null) throw new Error('the view should know it');
    await workplace.store.saveParcels(ROLL, 3, [files]);
    const { volume, shootId, recorder, role } = roll;
    await apply(
      workplace,
      {
        type: 'listed',
        roll: {
          id: ROLL,
          shootId,
          recorder,
          role,
          volume,
          mount: mountAt(workplace.drive),
          fingerprint: 'f2',
          litterCount: 0,
          facts: 'read',
          parcels: [{ firstPath: 'CLIPS/a.mov', fileCount: 2, sizeInBytes: 20 }],
          destinations: { primary: null, backup: null },
          findings: [],
        },
      },
      { type: 'parcelCopied', visit: 3, parcel: 0, outcome: { primary: null, backup: null }, findings: [] },
      { type: 'volumeLeft' },
    );
    const before = await workplace.store.roll(ROLL);
    expect((await rebuild(workplace)).rolls).toEqual([]);
    // A record that was written later by somebody else's clock does not take the new file away either.
    for (const name of ['primary', 'backup'])
      await writeRollRecord(workplace.destination(name), { ...RECORD, visit: 9, sealedAt: MUCH_LATER });
    const { rolls } = await rebuild(workplace);
    expect(rolls).toMatchObject([{ tookOver: false, outcome: expect.stringContaining('may know more') }]);
    expect(await workplace.store.roll(ROLL)).toEqual(before);
    expect(await workplace.store.parcelFiles(ROLL, 3, 0)).toEqual(files);
  });
});

describe('a roll that the view calls sealed and that is not on record', () => {
  it('is told, and left as it is', async () => {
    const workplace = await known();
    await rm(join(workplace.destination('backup'), SHOOT, 'records', 'rolls', `${ROLL}.json`));
    await writeFile(join(workplace.destination('primary'), SHOOT, 'records', 'rolls', `${ROLL}.json`), '{');
    const before = await workplace.store.roll(ROLL);
    const { rolls } = await rebuild(workplace);
    expect(rolls).toMatchObject([{ rollId: ROLL, tookOver: false }]);
    expect(rolls[0]?.differences).toEqual([
      {
        kind: 'not-on-record',
        sentence: `The view says that roll ${ROLL} is sealed at primary (generation 3 of its manifest), but its record there cannot be read.`,
      },
      {
        kind: 'not-on-record',
        sentence: `The view says that roll ${ROLL} is sealed at backup (generation 3 of its manifest), but no record of it lies there.`,
      },
    ]);
    expect(await workplace.store.roll(ROLL)).toEqual(before);
  });

  it('is told as well when the record lacks files that the view calls proven there', async () => {
    const more = { ...STORED, path: 'CLIPS/b.mov', storedPath: 'CLIPS/b.mov' };
    const workplace = await known({
      primary: [{ ...RECORD, files: [STORED, more] }],
      backup: [{ ...RECORD, files: [STORED, more] }],
    });
    await writeRollRecord(workplace.destination('backup'), RECORD);
    const { rolls } = await rebuild(workplace);
    expect(rolls).toMatchObject([{ tookOver: false }]);
    expect(rolls[0]?.differences).toEqual([
      {
        kind: 'not-on-record',
        sentence: `Roll ${ROLL} at backup: "CLIPS/b.mov" is proven there says the view, and not on its record.`,
      },
    ]);
  });

  it('is no difference at a destination that is away: that one is named', async () => {
    const workplace = await known();
    await rm(workplace.destination('backup'), { recursive: true });
    const report = await rebuild(workplace);
    expect(report.rolls).toEqual([]);
    expect(report.unread).toMatchObject([{ destination: 'backup', why: expect.any(String) }]);
    expect(report.sentence).toMatch(/they agree\. backup could not be looked at\.$/);
  });
});

function loseRoll({ redisSocket }: Workplace, id: string): void {
  const ask = (...words: readonly string[]): void => void execFileSync('redis-cli', ['-s', redisSocket, ...words]);
  ask('del', `quayside:roll:${id}`);
  for (const hash of ['rolls', 'roll-volumes', 'roll-shoots']) ask('hdel', `quayside:${hash}`, id);
  ask('srem', 'quayside:asleep', id);
}
