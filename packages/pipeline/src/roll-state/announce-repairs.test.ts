import type { Roll } from '@quayside/shoot';
import { expect, it } from 'vitest';
import { announce } from './announce.ts';
import type { RollEvent } from './roll-event.ts';
import { after, copied, listedRoll, MISMATCH, NOW, openRoll, readBack } from './roll.test-support.ts';

/** What is announced about copies while these events come, `type severity`. */
function told(from: Roll, ...events: readonly RollEvent[]): readonly string[] {
  let roll = from;
  return events.flatMap((event) => {
    const before = roll;
    roll = after(roll, event);
    return announce(before, roll, NOW)
      .filter(({ type }) => type.startsWith('copy.'))
      .map(({ type, data }) =>
        `${type} ${JSON.stringify(data?.['destination'])} ${JSON.stringify(data?.['severity'])}`.replaceAll('"', ''),
      );
  });
}

const bothBad = [copied(0), copied(1), readBack(0, 'primary', MISMATCH), readBack(1, 'primary', MISMATCH)];
const roll = (repairLimit: number): Roll => openRoll({ ...listedRoll(2), repairLimit });

it('says once that copies at a destination are bad, and once that all of them are mended', () => {
  const mended = [copied(0), readBack(0, 'primary'), copied(1), readBack(1, 'primary')];
  expect(told(roll(2), ...bothBad, ...mended)).toEqual(['copy.bad primary warning', 'copy.repaired primary info']);
});

it('what no repair is allowed for is critical', () => {
  expect(told(roll(0), ...bothBad)).toEqual(['copy.bad primary critical']);
});

it('a retry that somebody asks for mends nothing yet', () => {
  expect(told(after(roll(0), ...bothBad), { type: 'retryRequested', destination: null })).toEqual([]);
});

it('copies that are good, or fail for want of room, are no matter', () => {
  expect(told(roll(2), copied(0), readBack(0, 'primary'), readBack(0, 'backup'))).toEqual([]);
});
