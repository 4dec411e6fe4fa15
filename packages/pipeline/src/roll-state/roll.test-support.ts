import { QuaysideError, type Clearance, type Failure, type Roll } from '@quayside/shoot';
import { advance } from './advance.ts';
import type { ListedRoll, RecordedRoll, RollEvent } from './roll-event.ts';

export const NOW = '2026-11-25T10:00:00.000Z';
export const CLEAR: Clearance = { verdict: 'clear', judgedAt: NOW, cautions: [] };
export const HELD: Clearance = {
  verdict: 'hold',
  judgedAt: NOW,
  reasons: [{ code: 'COPY_GONE', sentence: 'It is gone.' }],
};
export const MISMATCH: Failure = { code: 'CHECKSUM_MISMATCH', sentence: 'The copy differs.', retry: 'copy' };
export const FULL: Failure = { code: 'DESTINATION_FULL', sentence: 'No room.', retry: 'destination' };

const MOUNT = { path: '/media/wheel', mountId: '41', device: '8:1' };

/** A roll of the pottery class with `parcels` parcels of one file, for two destinations. */
export function listedRoll(parcels = 2): ListedRoll {
  return {
    id: 'wheel-20261125-abc123',
    shootId: '2026-11-25',
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
    mount: MOUNT,
    fingerprint: 'f1',
    litterCount: 0,
    repairLimit: 2,
    facts: 'read',
    parcels: Array.from({ length: parcels }, (_, index) => ({
      firstPath: `CLIPS/${index}.MOV`,
      fileCount: 1,
      sizeInBytes: 100,
    })),
    destinations: { primary: null, backup: null },
    findings: [],
  };
}

/** What is on record of that roll when all of it is proven at both destinations. */
export function recordedRoll(change: Partial<RecordedRoll> = {}): RecordedRoll {
  const { id, shootId, recorder, role, volume, parcels } = listedRoll(1);
  return {
    id,
    shootId,
    recorder,
    role,
    volume,
    visit: 1,
    fingerprint: 'f1',
    openedAt: NOW,
    sealedAt: NOW,
    repairLimit: 2,
    parcels: parcels.map((parcel) => ({ ...parcel, provenAt: ['primary', 'backup'] })),
    destinations: { primary: { generation: 1, readBackAt: NOW }, backup: { generation: 1, readBackAt: NOW } },
    ...change,
  };
}

export function openRoll(listed = listedRoll()): Roll {
  return advance(null, { type: 'listed', roll: listed }, NOW);
}

/** The roll after the events, in order. */
export function after(roll: Roll, ...events: readonly RollEvent[]): Roll {
  return events.reduce((state, event) => advance(state, event, NOW), roll);
}

export const back: RollEvent = { type: 'volumeReturned', mount: { ...MOUNT, mountId: '42' } };

export function copied(parcel: number, failure: Failure | null = null, visit = 1): RollEvent {
  return { type: 'parcelCopied', visit, parcel, outcome: { primary: failure, backup: null }, findings: [] };
}

export function readBack(parcel: number, destination: string, failure: Failure | null = null): RollEvent {
  return { type: 'parcelReadBack', visit: 1, parcel, destination, failure, findings: [] };
}

export function sealed(destination: string, attempt = 0): RollEvent {
  return { type: 'sealed', visit: 1, destination, attempt, generation: 1 };
}

/** A roll of one parcel that is copied, read back, sealed and judged clear. */
export function clearRoll(): Roll {
  const roll = after(
    openRoll(listedRoll(1)),
    copied(0),
    readBack(0, 'primary'),
    readBack(0, 'backup'),
    sealed('primary'),
    sealed('backup'),
  );
  return after(roll, { type: 'judged', due: roll.judgementDue, clearance: CLEAR, findings: [] });
}

export function isOurs(error: unknown): boolean {
  return error instanceof QuaysideError;
}
