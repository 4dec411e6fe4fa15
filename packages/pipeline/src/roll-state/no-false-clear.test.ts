import fc from 'fast-check';
import { expect, it } from 'vitest';
import { isAtRest } from './activity.ts';
import type { RollEvent } from './roll-event.ts';
import { CLEAR } from './roll.test-support.ts';
import { anyEvent, anyStory, follow, Inputs, work } from './stories.test-support.ts';
import { wantedRuns } from './wanted-runs.ts';

it('no sequence of events reaches clear but by a judgement of the present state, with the drive there, or gone after it was clear, and all at rest', () => {
  let reached = 0;
  fc.assert(
    fc.property(anyStory, (story) => {
      follow(story, (before, event, after) => {
        if (before.clearance.verdict === 'clear' || after.clearance.verdict !== 'clear') return;
        reached += 1;
        expect(event).toMatchObject({ type: 'judged', due: before.judgementDue, clearance: CLEAR });
        if (before.mount === null) expect(before.clearedAt).not.toBeNull();
        expect(isAtRest(before)).toBe(true);
      });
    }),
    { numRuns: 3000 },
  );
  // The stories are worth something only if many of them get there.
  expect(reached).toBeGreaterThan(300);
});

it('whatever adds, changes or retries footage takes clear away', () => {
  fc.assert(
    fc.property(anyStory, (story) => {
      follow(story, (before, event, after) => {
        if (before.clearance.verdict !== 'clear' || after === before) return;
        if (['listed', 'volumeChanged', 'volumeReturned', 'recordFound'].includes(event.type))
          expect(after.clearance.verdict).toBe('hold');
        if (event.type === 'parcelRecopied' && event.fromFailure !== null && after.parcels !== before.parcels) {
          const { parcel: index, from } = event;
          const wasProven = before.parcels[index]?.copies[from]?.state === 'verified';
          if (wasProven && event.visit === before.visit) expect(after.clearance.verdict).toBe('hold');
        }
        if (event.type === 'destinationReturned') expect(after.clearance.verdict).toBe('hold');
        // Facts that are read again decide nothing, so `clear` outlives that, and only that.
        const isAboutFacts = after.parcels === before.parcels && after.destinations === before.destinations;
        if (event.type === 'retryRequested') expect(after.clearance.verdict).toBe(isAboutFacts ? 'clear' : 'hold');
        if (event.type === 'retryRequested' && isAboutFacts) expect(after.facts).toBe('partly');
      });
    }),
    { numRuns: 1500 },
  );
});

it('wants no run twice, and nothing from a drive that is away', () => {
  fc.assert(
    fc.property(anyStory, (story) => {
      follow(story, (_before, _event, after) => {
        const runs = wantedRuns(after);
        expect(new Set(runs.map((run) => run.id)).size).toBe(runs.length);
        if (after.mount === null)
          expect(
            runs.filter(({ step }) => step === 'ingest' || (step === 'clearance' && after.clearedAt === null)),
          ).toEqual([]);
      });
    }),
    { numRuns: 1500 },
  );
});

it('always has a next run, a verdict, or a reason to wait', () => {
  fc.assert(
    fc.property(anyStory, (story) => {
      follow(story, (_before, _event, after) => {
        const isWaitingForDrive = after.mount === null;
        // The shoot's run, which `wantedShootRuns` names, gives the order.
        const isWaitingForOrder = after.facts === 'placing';
        const isJudged = after.judged === after.judgementDue;
        expect(wantedRuns(after).length > 0 || isJudged || isWaitingForDrive || isWaitingForOrder).toBe(true);
      });
    }),
    { numRuns: 1500 },
  );
});

it('makes a bad copy anew no more often than is allowed, unless somebody asks or the drive is listed anew', () => {
  let repaired = 0;
  fc.assert(
    fc.property(anyStory, (story) => {
      follow(story, (before, event, after) => {
        for (const { copies } of after.parcels) {
          for (const copy of Object.values(copies)) {
            repaired += copy.repairs;
            if (event.type !== 'listed') expect(copy.repairs).toBeLessThanOrEqual(after.repairLimit);
          }
        }
        if (after.visit === before.visit) expect(after.repairLimit).toBe(before.repairLimit);
      });
    }),
    { numRuns: 1500 },
  );
  expect(repaired).toBeGreaterThan(100);
});

it('copies from a proven copy only while the drive is away, and never onto or from one that is not', () => {
  let recopies = 0;
  const leaving = fc.oneof(
    { weight: 8, arbitrary: work },
    { weight: 1, arbitrary: fc.constant<RollEvent>({ type: 'volumeLeft' }) },
    { weight: 1, arbitrary: fc.oneof(fc.constant<RollEvent>({ type: 'retryDue' }), anyEvent) },
  );
  fc.assert(
    fc.property(fc.array(leaving, { minLength: 20, maxLength: 60 }), (story) => {
      follow(story, (_before, _event, after) => {
        for (const run of wantedRuns(after)) {
          if (run.step !== 'recopy') continue;
          recopies += 1;
          const { parcel: index, from, destinations } = Inputs.parse(run.inputs);
          expect(after.mount).toBeNull();
          expect(after.parcels[index]?.copies[from]?.state).toBe('verified');
          for (const name of destinations)
            expect(['absent', 'writing']).toContain(after.parcels[index]?.copies[name]?.state);
        }
      });
    }),
    { numRuns: 1500 },
  );
  expect(recopies).toBeGreaterThan(100);
});
