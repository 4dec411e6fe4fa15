import { appendFile, mkdir, readdir, readFile, truncate, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { temporaryDestination, temporaryFolder } from '../media-files.test-support.ts';
import { appendRecords, openRollLedger } from './append-ledger.ts';
import type { LedgerRecord } from './ledger-record.ts';
import { createLedgerReader, listLedgers, readLedger } from './read-ledger.ts';

const at = '2026-11-25T10:00:00.000Z';
const digests = { xxh128: '99aa06d3014798d86001c324468d497f' };
const storedTimes = { modifiedMs: 5, changedMs: 6 };

function written(path: string, storedPath = path): LedgerRecord {
  return { kind: 'written', path, storedPath, sizeInBytes: 3, modifiedMs: 1.5, digests, at };
}
function verified(path: string, storedPath = path): LedgerRecord {
  return { kind: 'verified', path, storedPath, digests, method: 'direct', storedTimes, at };
}
function failed(path: string): Extract<LedgerRecord, { kind: 'failed' }> {
  return { kind: 'failed', path, storedPath: path, code: 'CHECKSUM_MISMATCH', sentence: 'It is not the same.', at };
}

describe('a roll ledger', () => {
  it('is not begun in the empty folder where its destination was unmounted', async () => {
    await using root = await temporaryFolder();
    await expect(appendRecords(root.path, 'wheel-1', [written('a.mov')])).rejects.toMatchObject({
      code: 'DESTINATION_NOT_MOUNTED',
      retry: 'destination',
    });
    expect(await readdir(root.path)).toEqual([]);
  });

  it('gives back what was put in, with any name', async () => {
    await using root = await temporaryDestination();
    const odd = 'two\nlines \udcff "é"';
    await openRollLedger(root.path, 'wheel-1', { recorder: 'wheel', nested: { a: [1, null] } });
    await appendRecords(root.path, 'wheel-1', [written('a.mov'), written(odd, 'odd')]);
    const { header, files } = await readLedger(root.path, 'wheel-1');
    expect(header).toEqual({ recorder: 'wheel', nested: { a: [1, null] } });
    expect(files.get('a.mov')).toEqual({
      state: 'written',
      storedPath: 'a.mov',
      sizeInBytes: 3,
      modifiedMs: 1.5,
      digests,
    });
    expect(files.get(odd)?.storedPath).toBe('odd');
    expect(await listLedgers(root.path)).toEqual(['wheel-1']);
  });

  it('is one JSON object per line, as JSON Lines wants it', async () => {
    await using root = await temporaryDestination();
    await openRollLedger(root.path, 'wheel-1', { recorder: 'wheel' });
    await appendRecords(root.path, 'wheel-1', [written('two\nlines')]);
    const text = await readFile(join(root.path, '.quayside/ledger/wheel-1.jsonl'), 'utf8');
    expect(text.endsWith('\n')).toBe(true);
    expect(
      text
        .trimEnd()
        .split('\n')
        .map((line) => JSON.parse(line).kind),
    ).toEqual(['roll', 'written']);
  });

  it('writes the same header once, and a new one when it differs', async () => {
    await using root = await temporaryDestination();
    for (const visit of [1, 1, 2, 2]) await openRollLedger(root.path, 'wheel-1', { visit });
    const text = await readFile(join(root.path, '.quayside/ledger/wheel-1.jsonl'), 'utf8');
    expect(text.match(/"kind":"roll"/g)).toHaveLength(2);
    expect((await readLedger(root.path, 'wheel-1')).header).toEqual({ visit: 2 });
  });

  it('later records supersede: failed after verified, written after failed, and a verdict on an older copy says nothing', async () => {
    await using root = await temporaryDestination();
    const stateAfter = async (...records: LedgerRecord[]): Promise<string | undefined> => {
      await appendRecords(root.path, 'wheel-1', records);
      return (await readLedger(root.path, 'wheel-1')).files.get('a.mov')?.state;
    };
    expect(await stateAfter(verified('a.mov'))).toBeUndefined();
    expect(await stateAfter(written('a.mov'), verified('a.mov'))).toBe('verified');
    expect(await stateAfter(failed('a.mov'))).toBe('failed');
    expect(await stateAfter(written('a.mov', 'a__2.mov'))).toBe('written');
    expect(await stateAfter(verified('a.mov', 'a.mov'))).toBe('written');
  });

  it('what a bad copy was found to be stands on when a new copy takes its place', async () => {
    await using root = await temporaryDestination();
    const found = { sizeInBytes: 3, modifiedMs: 9, digests: { xxh128: '0'.repeat(32) } };
    await appendRecords(root.path, 'wheel-1', [written('a.mov'), { ...failed('a.mov'), found }, written('a.mov')]);
    const damage = { at, storedPath: 'a.mov', found };
    expect((await readLedger(root.path, 'wheel-1')).files.get('a.mov')).toMatchObject({ state: 'written', damage });
    await appendRecords(root.path, 'wheel-1', [verified('a.mov')]);
    expect((await readLedger(root.path, 'wheel-1')).files.get('a.mov')).toMatchObject({
      state: 'verified',
      verifiedAt: at,
      damage,
    });
  });

  it('passes over a torn last line, and closes it off with the next append, wherever the crash cut it', async () => {
    await using root = await temporaryDestination();
    await appendRecords(root.path, 'wheel-1', [written('a.mov'), written('b.mov')]);
    const path = join(root.path, '.quayside/ledger/wheel-1.jsonl');
    const whole = await readFile(path);
    const firstLine = whole.indexOf(0x0a) + 1;
    for (let length = firstLine; length < whole.length; length += 7) {
      await writeFile(path, whole);
      await truncate(path, length);
      expect([...(await readLedger(root.path, 'wheel-1')).files.keys()]).toEqual(['a.mov']);
      await appendRecords(root.path, 'wheel-1', [written('c.mov')]);
      expect([...(await readLedger(root.path, 'wheel-1')).files.keys()].filter((name) => name !== 'b.mov')).toEqual([
        'a.mov',
        'c.mov',
      ]);
    }
  });

  it('passes over lines that are not ours', async () => {
    await using root = await temporaryDestination();
    await mkdir(join(root.path, '.quayside/ledger'), { recursive: true });
    await appendFile(
      join(root.path, '.quayside/ledger/wheel-1.jsonl'),
      'nonsense\n{"kind":"later-version"}\n\n{"kind":"written"}\n',
    );
    await appendRecords(root.path, 'wheel-1', [written('a.mov')]);
    expect([...(await readLedger(root.path, 'wheel-1')).files.keys()]).toEqual(['a.mov']);
  });

  it('an absent ledger says nothing, and an id that is no folder name is refused', async () => {
    await using root = await temporaryDestination();
    expect((await readLedger(root.path, 'wheel-1')).files.size).toBe(0);
    expect(await listLedgers(root.path)).toEqual([]);
    await expect(readLedger(root.path, '../../etc/passwd')).rejects.toMatchObject({ code: 'BAD_ROLL_ID' });
  });

  it('a reader that reads again sees what others added, and a ledger that was replaced', async () => {
    await using root = await temporaryDestination();
    const reader = createLedgerReader(root.path, 'wheel-1');
    await appendRecords(root.path, 'wheel-1', [written('a.mov')]);
    expect((await reader.read()).files.size).toBe(1);
    await appendRecords(root.path, 'wheel-1', [written('b.mov'), verified('a.mov')]);
    expect([...(await reader.read()).files].map(([path, { state }]) => [path, state])).toEqual([
      ['a.mov', 'verified'],
      ['b.mov', 'written'],
    ]);
    await writeFile(join(root.path, '.quayside/ledger/wheel-1.jsonl'), '');
    expect((await reader.read()).files.size).toBe(0);
  });

  it('appends of several writers at once lose nothing', async () => {
    await using root = await temporaryDestination();
    const paths = Array.from({ length: 20 }, (_, index) => `${index}.mov`);
    await Promise.all(paths.map((path) => appendRecords(root.path, 'wheel-1', [written(path)])));
    expect([...(await readLedger(root.path, 'wheel-1')).files.keys()].toSorted()).toEqual(paths.toSorted());
  });
});
