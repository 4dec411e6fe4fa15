import { openWorkplace, type Workplace } from '../worker.test-support.ts';
import { type RollRecord, writeRollRecord } from './roll-record.ts';

export const NOW = '2026-11-26T10:00:00.000Z';
export const ROLL = 'wheel-20261125-abc123';
export const SHOOT = '2026-11-25';
export const FILE = { path: 'CLIPS/a.mov', sizeInBytes: 10, modifiedMs: 1_777_888_999_000 };

export const STORED: RollRecord['files'][number] = {
  ...FILE,
  storedPath: FILE.path,
  storedTimes: { modifiedMs: FILE.modifiedMs, changedMs: FILE.modifiedMs },
  digests: { xxh128: '00' },
  method: 'direct',
};

export const RECORD: RollRecord = {
  format: 1,
  rollId: ROLL,
  shootId: SHOOT,
  recorder: 'wheel',
  role: 'camera',
  volume: {
    key: 'v1',
    basis: 'uuid',
    uuid: '1A2B-3C4D',
    serial: null,
    label: 'WHEEL',
    fileSystem: 'exfat',
    sizeInBytes: 1000,
  },
  visit: 2,
  fingerprint: 'of the listing',
  openedAt: '2026-11-25T10:00:00.000Z',
  sealedAt: '2026-11-25T11:00:00.000Z',
  manifest: { generation: 3, c4: 'c4' },
  files: [STORED],
};

/** A view that was lost, and destinations that hold these records. */
export async function lost(records: Readonly<Record<string, readonly RollRecord[]>>): Promise<Workplace> {
  const workplace = await openWorkplace();
  await workplace.book.find();
  for (const [name, own] of Object.entries(records))
    for (const record of own) await writeRollRecord(workplace.destination(name), record);
  return workplace;
}
