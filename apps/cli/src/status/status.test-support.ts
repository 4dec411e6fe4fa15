import type { HealthAnswer, RollAnswer, VolumeAnswer } from '@quayside/admin-api';
import type { Status } from './gather-status.ts';

const AT = '2026-03-01T10:00:00.000Z';
/** A minute after the verdict. */
export const AT_MS = Date.parse(AT) + 60_000;

export const AWAKE: HealthAnswer = {
  ok: true,
  version: '0.1.0',
  redis: 'reachable',
  watcher: { alive: true, said: '' },
  worker: { alive: true, said: '' },
  cautions: [],
};

export const VOLUME: VolumeAnswer = {
  key: 'exfat-1a2b',
  basis: 'uuid',
  uuid: '1A2B-3C4D',
  serial: null,
  label: 'WHEEL',
  fileSystem: 'exfat',
  capacityInBytes: 64_000_000_000,
  mountPath: '/media/WHEEL',
  standing: 'settled',
  recorder: 'wheel',
  assigned: null,
  rollId: 'wheel-1',
  fileCount: 12,
  sizeInBytes: 8 * 1024 ** 3,
  litterCount: 0,
  why: null,
  seenAt: AT,
};

const SEALED = {
  standing: 'taking',
  failure: null,
  sealedGeneration: 1,
  parcels: { absent: 0, writing: 0, written: 0, verified: 3, failed: 0 },
  verifiedFiles: 12,
  verifiedBytes: 8 * 1024 ** 3,
  readBackAt: null,
  reread: null,
} as const;

export const CLEAR_ROLL: RollAnswer = {
  id: 'wheel-1',
  shootId: '2026-03-01',
  movingTo: null,
  recorder: 'wheel',
  role: 'camera',
  volume: { key: 'exfat-1a2b', label: 'WHEEL', fileSystem: 'exfat' },
  drivePresent: true,
  mountPath: '/media/WHEEL',
  activity: 'resting',
  visit: 1,
  fileCount: 12,
  sizeInBytes: 8 * 1024 ** 3,
  litterCount: 0,
  progress: { totalBytes: 8 * 1024 ** 3, fraction: 1, bytesPerSecond: 0, secondsLeft: 0 },
  clearance: { verdict: 'clear', judgedAt: AT, cautions: [] },
  judgementPending: false,
  destinations: { primary: SEALED, backup: SEALED },
  findingCount: 0,
  openedAt: AT,
  changedAt: AT,
};

export const HELD_ROLL: RollAnswer = {
  ...CLEAR_ROLL,
  id: 'hands-1',
  recorder: 'hands',
  volume: { key: 'exfat-9f9f', label: 'HANDS', fileSystem: 'exfat' },
  activity: 'copying',
  progress: { totalBytes: 8 * 1024 ** 3, fraction: 0.525, bytesPerSecond: 300 * 1024 ** 2, secondsLeft: 150 },
  clearance: {
    verdict: 'hold',
    judgedAt: AT,
    reasons: [
      { code: 'IN_PROGRESS', sentence: 'The footage is still being copied and proven; wait for the verdict.' },
      { code: 'DESTINATION_AWAY', sentence: 'Destination backup is not there: unplugged', destination: 'backup' },
    ],
  },
  destinations: {
    primary: { ...SEALED, sealedGeneration: null, verifiedFiles: 6, verifiedBytes: 4 * 1024 ** 3 },
    backup: {
      ...SEALED,
      standing: 'skipped',
      sealedGeneration: null,
      verifiedFiles: 0,
      verifiedBytes: 0,
      failure: {
        code: 'DESTINATION_AWAY',
        sentence: 'Destination backup is not there. Connect it.',
        retry: 'destination',
      },
    },
  },
};

/** A status with one drive, CLEAR but for what is changed. */
export function clearStatus(change: {
  volume?: Partial<VolumeAnswer>;
  roll?: Partial<RollAnswer>;
  health?: Partial<HealthAnswer>;
  atMs?: number;
}): Status {
  return {
    health: { ...AWAKE, ...change.health },
    connected: [{ ...VOLUME, ...change.volume }],
    rolls: [{ ...CLEAR_ROLL, ...change.roll }],
    atMs: change.atMs ?? AT_MS,
  };
}
