import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fingerprintOf } from '@quayside/media-files';
import type { MediaFacts } from '@quayside/shoot';
import { describe, expect, it } from 'vitest';
import { writeAcknowledgements, writeFacts } from '../shoots/facts-record.ts';
import { mountAt } from '../worker.test-support.ts';
import { rebuildView } from './rebuild-view.ts';
import { FILE, lost, NOW, RECORD, ROLL, SHOOT, STORED } from './records.test-support.ts';
import type { RollRecord } from './roll-record.ts';

const NO_FACTS: MediaFacts = {
  kind: 'other',
  container: null,
  durationMs: null,
  picture: null,
  startTimecode: null,
  sound: [],
  wave: null,
  device: { make: null, model: null, serial: null },
  reel: null,
  created: null,
  damage: [],
};

describe('a view that was lost', () => {
  it('is filled from the records, and never with a yes: each roll holds until its drive is judged again', async () => {
    const readAgain: RollRecord = {
      ...RECORD,
      readBackAt: '2026-11-26T03:00:00.000Z',
      manifest: { generation: 5, c4: 'c4' },
    };
    const workplace = await lost({ primary: [RECORD], backup: [readAgain] });
    expect(await workplace.store.isWhole()).toBe(false);
    expect(await rebuildView(workplace, NOW)).toBe(1);
    expect(await workplace.store.isWhole()).toBe(true);
    const roll = await workplace.store.roll(ROLL);
    expect(roll).toMatchObject({
      shootId: SHOOT,
      recorder: 'wheel',
      visit: 2,
      mount: null,
      wasSealed: true,
      fingerprint: fingerprintOf({ files: [FILE] }),
      openedAt: RECORD.openedAt,
      clearance: { verdict: 'hold', reasons: [{ code: 'VOLUME_AWAY' }] },
      // What was read again when is not lost with Redis.
      destinations: {
        primary: { sealedGeneration: 3, readBackAt: RECORD.sealedAt },
        backup: { sealedGeneration: 5, readBackAt: readAgain.readBackAt },
      },
    });
    expect(await workplace.store.parcelFiles(ROLL, 2, 0)).toEqual([FILE]);
    const { storedPath, digests, method } = STORED;
    const copy = { [FILE.path]: { state: 'verified', storedPath, digests, method } };
    expect(await workplace.store.copies(ROLL)).toEqual({ primary: copy, backup: copy });
    expect(await workplace.store.shoot(SHOOT)).toMatchObject({ id: SHOOT, named: false });
  });

  it('has a drive taken in anew when its roll is not on record at every destination', async () => {
    const workplace = await lost({ primary: [RECORD] });
    await rebuildView(workplace, NOW);
    const roll = await workplace.store.roll(ROLL);
    expect(roll?.fingerprint).toBe('');
    expect(Object.keys(roll?.destinations ?? {})).toEqual(['primary']);
  });

  it('goes by the latest visit where the records differ', async () => {
    const later: RollRecord = { ...RECORD, visit: 3, files: [STORED, { ...STORED, path: 'b' }] };
    const workplace = await lost({ primary: [RECORD], backup: [later] });
    await rebuildView(workplace, NOW);
    expect(await workplace.store.roll(ROLL)).toMatchObject({ visit: 3, fileCount: 2 });
  });

  it('passes over records that are damaged, and destinations that are away', async () => {
    const other = { ...RECORD, rollId: 'hands-20261125-abc123', recorder: 'hands' };
    const workplace = await lost({ primary: [RECORD, other], backup: [RECORD] });
    await writeFile(join(workplace.destination('primary'), SHOOT, 'records', 'rolls', `${ROLL}.json`), '{');
    expect(await rebuildView(workplace, NOW)).toBe(2);
    expect(Object.keys((await workplace.store.roll(ROLL))?.destinations ?? {})).toEqual(['backup']);
    expect(Object.keys((await workplace.store.roll(other.rollId))?.destinations ?? {})).toEqual(['primary']);
  });

  it('has the facts of the clips again, and what people have seen', async () => {
    const workplace = await lost({ primary: [RECORD], backup: [RECORD] });
    const at = { root: workplace.destination('backup'), shootId: SHOOT };
    const facts = [{ ...FILE, facts: { ...NO_FACTS, reel: 'A001' } }];
    const seen = { matter: 'CLIP_CUT_SHORT', note: 'known', by: 'operator', at: NOW };
    await writeFacts(at, ROLL, facts);
    await writeAcknowledgements(at, [seen]);
    await rebuildView(workplace, NOW);
    expect(await workplace.store.facts(ROLL)).toEqual(facts);
    expect(await workplace.store.acknowledgements(SHOOT)).toEqual({ [seen.matter]: seen });
  });
});

it('a roll that the view knows already is left alone, its files too', async () => {
  const workplace = await lost({ primary: [RECORD], backup: [RECORD] });
  await rebuildView(workplace, NOW);
  const more = [FILE, { ...FILE, path: 'CLIPS/new.mov' }];
  await workplace.store.saveParcels(ROLL, 2, [more]);
  const { after } = await workplace.store.changeRoll(ROLL, (roll) => {
    if (roll === null) throw new Error('it was rebuilt');
    return { ...roll, mount: mountAt(workplace.drive), fileCount: 2 };
  });
  await rebuildView(workplace, NOW);
  expect(await workplace.store.roll(ROLL)).toEqual(after);
  expect(await workplace.store.parcelFiles(ROLL, 2, 0)).toEqual(more);
});

it('a roll that was being rebuilt when the view was lost once more has its files again', async () => {
  const workplace = await lost({ primary: [RECORD], backup: [RECORD] });
  await rebuildView(workplace, NOW);
  const roll = await workplace.store.roll(ROLL);
  if (roll === null) throw new Error('it was rebuilt');
  await workplace.loseRedis();
  await workplace.store.changeRoll(ROLL, () => roll);
  await rebuildView(workplace, NOW);
  expect(await workplace.store.roll(ROLL)).toMatchObject({ visit: 2, clearance: { verdict: 'hold' } });
  expect(await workplace.store.parcelFiles(ROLL, 2, 0)).toEqual([FILE]);
});
