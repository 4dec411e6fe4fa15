import type { RollAnswer, VolumeAnswer } from '@quayside/admin-api';
import { describe, expect, it } from 'vitest';
import type { Status } from './gather-status.ts';
import { judgeDrives } from './judge-drives.ts';
import { AT_MS, AWAKE, CLEAR_ROLL, clearStatus, HELD_ROLL, VOLUME } from './status.test-support.ts';

function wordFor(change: {
  volume?: Partial<VolumeAnswer>;
  roll?: Partial<RollAnswer>;
  health?: Partial<Status['health']>;
  atMs?: number;
}): string {
  const status = clearStatus(change);
  return judgeDrives(status)
    .map(({ word }) => word)
    .join();
}

describe('a drive is CLEAR', () => {
  it('only when its roll is clear, the drive is settled and the service is awake', () => {
    expect(wordFor({})).toBe('CLEAR');
  });

  it.each<[string, Parameters<typeof wordFor>[0]]>([
    ['the roll is on hold', { roll: { clearance: HELD_ROLL.clearance } }],
    ['the drive has not settled', { volume: { standing: 'settling' } }],
    ['the drive cannot be read', { volume: { standing: 'unreadable', why: 'EIO' } }],
    ['the drive is empty', { volume: { standing: 'empty' } }],
    ['the drive has no roll yet', { volume: { rollId: null } }],
    ['the roll is not that of the drive', { volume: { rollId: 'another' } }],
    ['the roll belongs to a volume with another key', { roll: { volume: { ...CLEAR_ROLL.volume, key: 'other' } } }],
    ['the roll does not know its drive', { roll: { drivePresent: false } }],
    ['the verdict was not renewed for six minutes', { atMs: Date.parse(CLEAR_ROLL.clearance.judgedAt) + 6 * 60_000 }],
    ['the clock was set back since the verdict', { atMs: Date.parse(CLEAR_ROLL.clearance.judgedAt) - 3_600_000 }],
    ['the moment of the look is not known', { atMs: Number.NaN }],
    ['the watcher sleeps', { health: { watcher: { alive: false, said: null } } }],
    ['the worker sleeps', { health: { worker: { alive: false, said: null } } }],
    ['Redis is away', { health: { redis: 'away' } }],
  ])('never while %s', (_name, change) => {
    expect(wordFor(change)).toMatch(/^HOLD/);
  });
});

it('lists a drive that left before it was proven, and not one that left proven', () => {
  const away = { ...HELD_ROLL, id: 'desk-1', recorder: 'desk', drivePresent: false };
  const gone = { ...CLEAR_ROLL, id: 'old-1', drivePresent: false };
  const drives = judgeDrives({ health: AWAKE, connected: [VOLUME], rolls: [CLEAR_ROLL, away, gone], atMs: AT_MS });
  expect(drives.map(({ word, recorder, connected }) => [word, recorder, connected])).toEqual([
    ['CLEAR', 'wheel', true],
    ['HOLD', 'desk', false],
  ]);
});

it('leaves unclaimed volumes out, since no verdict about them is possible', () => {
  expect(judgeDrives({ health: AWAKE, connected: [{ ...VOLUME, recorder: null }], rolls: [], atMs: AT_MS })).toEqual(
    [],
  );
});
