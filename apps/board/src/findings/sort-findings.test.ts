import type { Finding } from '../service/look-at-shoot.ts';
import { expect, it } from 'vitest';
import { sortFindings, subjectOf } from './sort-findings.ts';

const NOTE: Finding = {
  code: 'CLIP_CUT_SHORT',
  severity: 'info',
  subject: { kind: 'clip', id: 'hands-1/CLIPS/a.mov' },
  why: 'It ends early.',
  remedy: 'Look at it.',
  at: '2026-11-25T10:00:00.000Z',
  id: 'note',
  groupId: null,
  recorder: 'hands',
  rollId: null,
  clipIds: [],
  acknowledged: null,
};

it('puts first what nobody has seen yet, then the graver, then the newer', () => {
  const seen = {
    ...NOTE,
    id: 'seen',
    severity: 'critical',
    acknowledged: { by: 'ada', at: NOTE.at, note: '' },
  } as const;
  const warning = { ...NOTE, id: 'warning', severity: 'warning' } as const;
  const newer = { ...NOTE, id: 'newer', at: '2026-11-25T11:00:00.000Z' };
  expect(sortFindings([seen, NOTE, newer, warning]).map(({ id }) => id)).toEqual(['warning', 'newer', 'note', 'seen']);
});

it('names what a finding is about without the ids that stand elsewhere', () => {
  expect(subjectOf(NOTE)).toBe('hands, clip CLIPS/a.mov');
  const file = { kind: 'roll', id: 'hands-1', path: 'CLIPS/b.mov' } as const;
  expect(subjectOf({ ...NOTE, recorder: null, subject: file })).toBe('roll CLIPS/b.mov');
});
