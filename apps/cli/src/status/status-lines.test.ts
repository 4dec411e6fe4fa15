import { stripVTControlCharacters } from 'node:util';
import type { RollAnswer } from '@quayside/admin-api';
import { expect, it } from 'vitest';
import { momentText } from '../screen/quantities.ts';
import type { Status } from './gather-status.ts';
import { AT_MS, AWAKE, CLEAR_ROLL, HELD_ROLL, VOLUME } from './status.test-support.ts';
import { statusLines } from './status-lines.ts';

const STATUS: Status = {
  health: AWAKE,
  atMs: AT_MS,
  connected: [
    { ...VOLUME, key: 'exfat-9f9f', label: 'HANDS', recorder: 'hands', rollId: 'hands-1' },
    VOLUME,
    {
      ...VOLUME,
      key: 'ext4-7c',
      label: null,
      recorder: null,
      rollId: null,
      mountPath: '/media/\u001b[2Jx',
      fileSystem: 'ext4',
    },
  ],
  rolls: [HELD_ROLL, CLEAR_ROLL],
};
const LOOK = { colour: false, bars: false, recorders: ['wheel', 'hands'] };

it('tells in plain lines first of all which drives may be recorded over', () => {
  const at = momentText(AWAKE_AT);
  expect(statusLines(STATUS, LOOK)).toEqual([
    'May I record over it?',
    `  HOLD   hands  HANDS  The footage is still being copied and proven; wait for the verdict. Time left: 3 min. (1 more reason: quayside status --json)`,
    `  CLEAR  wheel  WHEEL  12 files proven at backup and primary (judged ${at})`,
    'Work',
    '  hands  copying   52 %  of 8.0 GiB  300 MiB/s, 3 min left',
    'Destinations',
    '  backup   1 of 2 rolls sealed, 8.0 GiB proven. Destination backup is not there. Connect it.',
    '  primary  1 of 2 rolls sealed, 12.0 GiB proven',
    'Unclaimed drives: nothing of them is copied',
    String.raw`  ext4-7c: ext4, 12 files, 8.0 GiB, at /media/\u{1b}[2Jx`,
    '    quayside assign ext4-7c wheel|hands',
    'Never format a drive that is on HOLD. Keep two copies on separate devices. Quayside advises; you decide.',
  ]);
});

it('tells of drives that are away and rest in one line, and of each that is away with work left', () => {
  const away = {
    verdict: 'hold' as const,
    judgedAt: AWAKE_AT,
    reasons: [{ code: 'VOLUME_AWAY', sentence: 'Connect it.' }],
  };
  const old = (id: string): RollAnswer => ({ ...CLEAR_ROLL, id, drivePresent: false, clearance: away });
  const half = { ...HELD_ROLL, drivePresent: false, clearance: away };
  const lines = statusLines(
    { health: AWAKE, atMs: AT_MS, connected: [], rolls: [old('wheel-1'), old('wheel-2'), half] },
    LOOK,
  );
  expect(lines.slice(0, 3)).toEqual([
    'May I record over it?',
    `  HOLD  hands  HANDS  Not connected. Connect it.`,
    '  HOLD   2 drives that are not connected rest: all that is known of them is proven. Connect one to have the verdict (quayside status --json).',
  ]);
});

it('says the same without its colours', () => {
  const coloured = statusLines(STATUS, { ...LOOK, colour: true });
  expect(coloured.join('\n')).toContain('\u001b[');
  expect(coloured.map(stripVTControlCharacters)).toEqual(statusLines(STATUS, LOOK));
});

it('draws bars for a person who watches', () => {
  expect(statusLines(STATUS, { ...LOOK, bars: true })).toContain(
    '  hands  copying  [##########..........]   52 %  of 8.0 GiB  300 MiB/s, 3 min left',
  );
});

it('tells the cautions that come with a CLEAR, and those about Redis', () => {
  const roll: RollAnswer = {
    ...CLEAR_ROLL,
    clearance: { verdict: 'clear', judgedAt: AWAKE_AT, cautions: ['The copies lie on one device.'] },
  };
  const text = statusLines(
    { health: { ...AWAKE, cautions: ['It keeps nothing.'] }, atMs: AT_MS, connected: [VOLUME], rolls: [roll] },
    LOOK,
  ).join('\n');
  expect(text).toContain('\n  Caution about wheel: The copies lie on one device.\n');
  expect(text).toContain('Caution: It keeps nothing.');
});

it('advises also when nothing is connected', () => {
  expect(statusLines({ health: AWAKE, atMs: AT_MS, connected: [], rolls: [] }, LOOK)).toEqual([
    'May I record over it?',
    '  No drive of a known recorder is connected.',
    'Never format a drive that is on HOLD. Keep two copies on separate devices. Quayside advises; you decide.',
  ]);
});

const AWAKE_AT = CLEAR_ROLL.openedAt;
