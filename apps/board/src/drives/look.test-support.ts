import type { HealthAnswer, RollAnswer, VolumeAnswer } from '@quayside/admin-api/page-answers';
import type { DriveLook } from '../picture/drive-look.ts';

export const JUDGED_AT = '2026-11-25T10:00:00.000Z';
const SERVICE_MS = Date.parse('2026-11-25T10:00:30.000Z');

const AWAKE: HealthAnswer = {
  ok: true,
  version: '0.1.0',
  redis: 'reachable',
  watcher: { alive: true, said: 'x' },
  worker: { alive: true, said: 'x' },
  cautions: [],
};

export const WHEEL: VolumeAnswer = {
  key: 'exfat-1a2b',
  basis: 'uuid',
  uuid: '1A2B',
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
  sizeInBytes: 8_000_000_000,
  litterCount: 0,
  why: null,
  seenAt: JUDGED_AT,
};

export const PROVEN_PLACE: RollAnswer['destinations'][string] = {
  standing: 'taking',
  failure: null,
  sealedGeneration: 1,
  parcels: { absent: 0, writing: 0, written: 0, verified: 3, failed: 0 },
  verifiedFiles: 12,
  verifiedBytes: 8_000_000_000,
  readBackAt: null,
  reread: null,
};

export const CLEAR_ROLL: RollAnswer = {
  id: 'wheel-1',
  shootId: '2026-11-25',
  movingTo: null,
  recorder: 'wheel',
  role: 'camera',
  volume: { key: 'exfat-1a2b', label: 'WHEEL', fileSystem: 'exfat' },
  drivePresent: true,
  mountPath: '/media/WHEEL',
  activity: 'resting',
  visit: 1,
  fileCount: 12,
  sizeInBytes: 8_000_000_000,
  litterCount: 0,
  progress: { totalBytes: 32_000_000_000, fraction: 1, bytesPerSecond: 0, secondsLeft: null },
  clearance: { verdict: 'clear', judgedAt: JUDGED_AT, cautions: [] },
  judgementPending: false,
  destinations: { primary: PROVEN_PLACE, backup: PROVEN_PLACE },
  findingCount: 0,
  openedAt: JUDGED_AT,
  changedAt: JUDGED_AT,
};

/** The verdict of a roll that is held for one reason. */
export function held(code: string, sentence: string): RollAnswer['clearance'] {
  return { verdict: 'hold', judgedAt: JUDGED_AT, reasons: [{ code, sentence }] };
}

/** A look at one connected drive whose roll is clear, with what is changed in it. */
export function lookAtWheel({
  volume = {},
  roll = {},
  health = {},
  look = {},
}: {
  readonly volume?: Partial<VolumeAnswer>;
  readonly roll?: Partial<RollAnswer>;
  readonly health?: Partial<HealthAnswer>;
  readonly look?: Partial<DriveLook>;
} = {}): DriveLook {
  return {
    begunAt: { wall: 0, steady: 0 },
    serviceMs: SERVICE_MS,
    health: { ...AWAKE, ...health },
    connected: [{ ...WHEEL, ...volume }],
    rolls: [{ ...CLEAR_ROLL, ...roll }],
    ...look,
  };
}
