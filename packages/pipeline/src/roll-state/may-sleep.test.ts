import type { Roll } from '@quayside/shoot';
import { describe, expect, it } from 'vitest';
import { matterToTell } from './matter-to-tell.ts';
import { destinationsWaitedFor, maySleep } from './may-sleep.ts';
import { after, back, clearRoll, copied, FULL, listedRoll, openRoll, readBack } from './roll.test-support.ts';

function told(roll: Roll): Roll {
  return after(roll, { type: 'told', matter: matterToTell(roll)?.matter ?? '' });
}

const left = { type: 'volumeLeft' } as const;

describe('a roll may sleep', () => {
  it('when it is clear, people were told, and its drive has left', () => {
    expect(maySleep(told(after(clearRoll(), left)))).toBe(true);
  });
});

describe('a roll stays awake', () => {
  it('while its drive is there, because it is judged again', () => {
    expect(maySleep(told(clearRoll()))).toBe(false);
    expect(maySleep(after(told(after(clearRoll(), left)), back))).toBe(false);
  });

  it('while people are still to be told', () => {
    expect(maySleep(after(clearRoll(), left))).toBe(false);
  });

  it('when its drive left in the middle, because destinations keep room for the rest', () => {
    const roll = told(after(openRoll(listedRoll(2)), copied(0), readBack(0, 'primary'), readBack(0, 'backup'), left));
    expect(maySleep(roll)).toBe(false);
  });

  it('while it waits for a destination to come back', () => {
    const roll = after(openRoll(listedRoll(1)), copied(0, FULL), readBack(0, 'backup'), left);
    expect(destinationsWaitedFor(roll)).toEqual(['primary']);
    expect(maySleep(told(roll))).toBe(false);
  });
});
