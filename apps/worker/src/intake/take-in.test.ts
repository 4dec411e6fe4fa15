import { appendFile, mkdir, readFile, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { readLedger } from '@quayside/media-files';
import type { Roll } from '@quayside/shoot';
import { describe, expect, it } from 'vitest';
import { mountAt, openWorkplace, VOLUME_KEY, type Workplace } from '../worker.test-support.ts';
import { takeIn } from './take-in.ts';

const TAKES = { 'CLIPS/a.mov': 'first take', 'CLIPS/b.mov': 'second take' };

async function rollOf(workplace: Workplace, fingerprint: string): Promise<Roll> {
  const id = await takeIn(workplace, VOLUME_KEY, fingerprint);
  const roll = id === null ? null : await workplace.store.roll(id);
  if (roll === null) throw new Error('nothing was taken in');
  return roll;
}

describe('a drive that is new', () => {
  it('opens a roll with its files, its destinations and its work', async () => {
    const workplace = await openWorkplace();
    const fingerprint = await workplace.plug(TAKES);
    const roll = await rollOf(workplace, fingerprint);
    expect(roll.id).toMatch(/^wheel-\d{8}-[0-9a-f]{6}$/);
    expect(roll).toMatchObject({ recorder: 'wheel', role: 'camera', visit: 1, fingerprint, fileCount: 2 });
    expect(roll.clearance.verdict).toBe('hold');
    expect((await workplace.store.rollFiles(roll)).map(({ path }) => path)).toEqual(Object.keys(TAKES));
    expect(Object.values(roll.destinations).map(({ standing }) => standing)).toEqual(['taking', 'taking']);
    expect((await workplace.store.volume(VOLUME_KEY))?.rollId).toBe(roll.id);
    expect((await workplace.queue.counts()).waiting).toBeGreaterThan(0);
  });

  it('has its first line in every ledger before a byte is copied', async () => {
    const workplace = await openWorkplace();
    const { id, shootId } = await rollOf(workplace, await workplace.plug(TAKES));
    for (const name of ['primary', 'backup']) {
      const text = await readFile(join(workplace.destination(name), '.quayside', 'ledger', `${id}.jsonl`), 'utf8');
      const lines = text.trim().split('\n');
      expect(lines).toHaveLength(1);
      expect(JSON.parse(lines[0] ?? '')).toMatchObject({ rollId: id, shootId, recorder: 'wheel' });
    }
  });

  it('is not taken in while it is unclaimed, away, empty, or no longer what was seen', async () => {
    const workplace = await openWorkplace();
    const nothing = await workplace.plug({});
    expect(await takeIn(workplace, VOLUME_KEY, nothing)).toBeNull();
    const fingerprint = await workplace.plug(TAKES);
    expect(await takeIn(workplace, VOLUME_KEY, nothing)).toBeNull();
    expect(await takeIn(workplace, 'unheard-of', fingerprint)).toBeNull();
    await workplace.plug({}, { recorder: null });
    expect(await takeIn(workplace, VOLUME_KEY, fingerprint)).toBeNull();
    await workplace.plug({}, { mount: null, standing: 'gone' });
    expect(await takeIn(workplace, VOLUME_KEY, fingerprint)).toBeNull();
    expect(await workplace.store.rolls()).toEqual([]);
  });
});

describe('destinations that cannot take it', () => {
  it('are skipped with a finding while the others go on: one that is away', async () => {
    const workplace = await openWorkplace();
    await workplace.book.find();
    const path = workplace.destination('primary');
    await rename(path, `${path}-drive`);
    await mkdir(path);
    const roll = await rollOf(workplace, await workplace.plug(TAKES));
    expect(roll.destinations).toMatchObject({ primary: { standing: 'skipped' }, backup: { standing: 'taking' } });
    expect(roll.findings).toMatchObject([{ code: 'DESTINATION_NOT_MOUNTED', severity: 'critical' }]);
    expect((await readLedger(workplace.destination('backup'), roll.id)).header).toMatchObject({ rollId: roll.id });
  });

  it('and one without room for all of it', async () => {
    const workplace = await openWorkplace({ keepFreeBytes: 2 ** 50 });
    const roll = await rollOf(workplace, await workplace.plug(TAKES));
    expect(roll.destinations).toMatchObject({ primary: { standing: 'skipped' }, backup: { standing: 'taking' } });
    expect(roll.findings).toMatchObject([{ code: 'DESTINATION_TOO_SMALL' }]);
  });
});

describe('a drive that is offered again', () => {
  it('goes on with its roll, in the same visit when nothing changed, wherever it is mounted now', async () => {
    const workplace = await openWorkplace();
    const fingerprint = await workplace.plug(TAKES);
    const first = await rollOf(workplace, fingerprint);
    await workplace.plug({}, { mount: mountAt(workplace.drive, '77') });
    const again = await rollOf(workplace, fingerprint);
    expect(again).toMatchObject({ id: first.id, visit: 1, mount: { mountId: '77' } });
  });

  it('is left to its work when it never left, and judged anew once that rests', async () => {
    const workplace = await openWorkplace();
    const fingerprint = await workplace.plug(TAKES);
    const first = await rollOf(workplace, fingerprint);
    expect(await rollOf(workplace, fingerprint)).toEqual(first);
    const { after } = await workplace.store.changeRoll(first.id, (roll) => proven(roll));
    const due = { ...after, judgementDue: after.judgementDue + 1, changedAt: expect.any(String) };
    expect(await rollOf(workplace, fingerprint)).toEqual(due);
  });

  it('goes on with its roll in a new visit when footage was added', async () => {
    const workplace = await openWorkplace();
    const first = await rollOf(workplace, await workplace.plug(TAKES));
    const again = await rollOf(workplace, await workplace.plug({ 'CLIPS/c.mov': 'third take' }));
    expect(again).toMatchObject({ id: first.id, shootId: first.shootId, visit: 2, fileCount: 3 });
  });

  it('gets a roll of its own when it was formatted in between', async () => {
    const workplace = await openWorkplace();
    const first = await rollOf(workplace, await workplace.plug(TAKES));
    await rm(join(workplace.drive, 'CLIPS'), { recursive: true });
    const second = await rollOf(workplace, await workplace.plug({ 'CLIPS/new.mov': 'another day' }));
    expect(second.id).not.toBe(first.id);
    expect(await workplace.store.rolls()).toHaveLength(2);
  });

  it('is known by the ledgers at the destinations when Redis was lost', async () => {
    const workplace = await openWorkplace();
    const first = await rollOf(workplace, await workplace.plug(TAKES));
    // What was written so far makes it the same roll; the ledger holds the files.
    await noteWritten(workplace, first);
    await workplace.loseRedis();
    const again = await rollOf(workplace, await workplace.plug({}));
    expect(again).toMatchObject({ id: first.id, shootId: first.shootId, visit: 1 });
  });
});

/** As it is when every copy was read back and sealed, and its verdict given. */
function proven(roll: Roll | null): Roll {
  if (roll === null) throw new Error('it was taken in');
  const copy = { state: 'verified' as const, attempt: 0, failure: null, repairs: 0, partBytes: 0 };
  const sealed = {
    standing: 'taking' as const,
    failure: null,
    sealedGeneration: 1,
    sealAttempt: 0,
    readBackAt: null,
    reread: null,
  };
  return {
    ...roll,
    judged: roll.judgementDue,
    destinations: { primary: sealed, backup: sealed },
    parcels: roll.parcels.map((parcel) => ({ ...parcel, copies: { primary: copy, backup: copy } })),
  };
}

/** As the copying notes a file that is whole and synced. */
async function noteWritten(workplace: Workplace, roll: Roll): Promise<void> {
  const [file] = await workplace.store.rollFiles(roll);
  const line = { kind: 'written', ...file, storedPath: file?.path, digests: { xxh128: '00' }, at: roll.openedAt };
  const path = join(workplace.destination('backup'), '.quayside', 'ledger', `${roll.id}.jsonl`);
  await appendFile(path, `${JSON.stringify(line)}\n`);
}
