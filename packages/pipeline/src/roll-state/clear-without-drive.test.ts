import type { Roll } from '@quayside/shoot';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { RollEvent } from './roll-event.ts';
import { clearRoll, MISMATCH } from './roll.test-support.ts';
import { anyEvent, follow, work } from './stories.test-support.ts';

it('only a roll that was clear when its drive left, and is the same as it was then, is judged without it', () => {
  let clearAgain = 0;
  const since = '2027-03-01T02:00:00.000Z';
  const rotten = { visit: 1, destination: 'backup', since, parcel: 0, badFiles: 1, failure: MISMATCH, findings: [] };
  const start: readonly RollEvent[] = [
    { type: 'volumeLeft' },
    { type: 'rereadRequested', destinations: ['backup'], since },
    { type: 'parcelReread', ...rotten },
  ];
  const rotting = fc.array(fc.oneof({ weight: 1, arbitrary: anyEvent }, { weight: 8, arbitrary: work }), {
    minLength: 5,
    maxLength: 40,
  });
  fc.assert(
    fc.property(rotting, (story) => {
      // What an onlooker would say: clear, with the drive there, and nothing seen of that drive or its content since.
      let wasClearWithDrive = true;
      const look = (before: Roll, event: RollEvent, after: Roll): void => {
        if (after.visit !== before.visit || event.type === 'volumeReturned' || event.type === 'volumeChanged')
          wasClearWithDrive = false;
        if (after.mount !== null) wasClearWithDrive = after.clearance.verdict === 'clear';
        if (after.clearedAt !== null) expect(wasClearWithDrive).toBe(true);
        if (after.clearedAt !== null) expect(after.mount).toBeNull();
        if (after.mount !== null || after.clearance.verdict !== 'clear' || before.clearance.verdict === 'clear') return;
        clearAgain += 1;
        expect(event).toMatchObject({ type: 'judged', due: before.judgementDue });
        expect(wasClearWithDrive).toBe(true);
      };
      follow([...start, ...story], look, clearRoll());
    }),
    { numRuns: 1000 },
  );
  expect(clearAgain).toBeGreaterThan(100);
});
