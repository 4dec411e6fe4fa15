import { expect, it } from 'vitest';
import { changedVerdicts } from './changed-verdicts.ts';
import type { DriveCard } from './drive-card.ts';
import { driveCards } from './drive-cards.ts';
import { held, lookAtWheel, WHEEL } from './look.test-support.ts';
import { tellTally } from './tell-tally.ts';

const CLEAR = driveCards(lookAtWheel(), true);
const HELD = driveCards(lookAtWheel({ roll: { clearance: held('IN_PROGRESS', 'Wait.'), activity: 'copying' } }), true);
const DESK: DriveCard = { ...(HELD[0] ?? expect.unreachable()), key: 'desk', recorder: 'desk' };
const unknown = (isSure: boolean): readonly DriveCard[] =>
  driveCards({ ...lookAtWheel(), connected: [WHEEL, { ...WHEEL, key: 'd', recorder: 'desk' }] }, isSure);

it('says a verdict that has changed, and nothing when none has', () => {
  expect(changedVerdicts(HELD, CLEAR)).toBe('wheel: CLEAR. Yes, you may record over it.');
  expect(changedVerdicts(CLEAR, HELD)).toBe('wheel: HOLD. No, not yet.');
  expect(changedVerdicts(CLEAR, CLEAR)).toBe('');
  expect(changedVerdicts([DESK, ...CLEAR], CLEAR)).toBe('desk is not connected any more.');
});

it('says one sentence when nothing is known any more', () => {
  expect(changedVerdicts(unknown(true), unknown(false))).toBe('No verdict is known now. Record over no drive.');
});

it('tells the whole board in two lines', () => {
  expect(tellTally([DESK, ...CLEAR], true)).toEqual({ yes: 'Yes: wheel', no: 'No: desk', title: '1 of 2 clear' });
  expect(tellTally([], true)).toMatchObject({ yes: null, no: 'No drive is connected.' });
  expect(tellTally([DESK, ...CLEAR], false)).toEqual({
    yes: null,
    no: 'Not known now. Record over no drive.',
    title: 'Not known now',
  });
});

it('names two drives of one recorder by their labels too, or the yes of one would be taken for the other', () => {
  const [clear = expect.unreachable()] = CLEAR;
  const second: DriveCard = { ...(HELD[0] ?? expect.unreachable()), key: 'second', label: 'WHEEL 2' };
  expect(tellTally([clear, second], true)).toMatchObject({
    yes: `Yes: wheel (${clear.label})`,
    no: 'No: wheel (WHEEL 2)',
  });
  expect(changedVerdicts(HELD, [clear, second])).toContain(`wheel (${clear.label}): CLEAR.`);
});
