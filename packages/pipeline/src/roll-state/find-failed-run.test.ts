import type { Failure, Roll, RunRequest } from '@quayside/shoot';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { findFailedRun } from './find-failed-run.ts';
import { after, clearRoll, HELD, listedRoll, openRoll } from './roll.test-support.ts';
import type { RollEvent } from './roll-event.ts';
import { wantedRuns } from './wanted-runs.ts';

// Names that begin like one another, with hyphens, which part the words of an id too.
const NAMES = ['backup', 'backup-2', 'far', 'far-off-2'];
const AWAY: Failure = { code: 'DESTINATION_MISSING', sentence: 'It is away.', retry: 'destination' };
const ID = 'wheel-20261125-abc123';

function rollFor(names: readonly string[]): Roll {
  return openRoll({
    ...listedRoll(3),
    id: ID,
    repairLimit: 0,
    destinations: Object.fromEntries(names.map((name) => [name, null])),
  });
}

const Inputs = z.object({
  parcel: z.number().default(0),
  destination: z.string().default(''),
  destinations: z.array(z.string()).default([]),
  from: z.string().default(''),
  attempt: z.number().default(0),
  due: z.number().default(0),
});

/** What becomes of a run: it goes well, or fails at the destinations of this set. */
function eventOf({ step, inputs }: RunRequest, failsAt: ReadonlySet<string>): RollEvent {
  const { parcel, destination, destinations, from, attempt, due } = Inputs.parse(inputs);
  const failure = failsAt.has(destination) ? AWAY : null;
  const outcome = Object.fromEntries(destinations.map((name) => [name, failsAt.has(name) ? AWAY : null]));
  if (step === 'ingest') return { type: 'parcelCopied', visit: 1, parcel, outcome, findings: [] };
  if (step === 'recopy')
    return { type: 'parcelRecopied', visit: 1, parcel, from, fromFailure: null, outcome, findings: [] };
  if (step === 'checksum') return { type: 'parcelReadBack', visit: 1, parcel, destination, failure, findings: [] };
  if (step === 'clearance') return { type: 'judged', due, clearance: HELD, findings: [] };
  return failure === null
    ? { type: 'sealed', visit: 1, destination, attempt, generation: 1 }
    : { type: 'sealFailed', visit: 1, destination, attempt, failure };
}

it('a run that failed is found by its id, and what it stands for is what that run was to do', () => {
  const found = new Map<string, number>();
  const moves = fc.array(
    fc.record({ pick: fc.nat(), failsAt: fc.subarray(NAMES), leaves: fc.boolean(), retries: fc.boolean() }),
    { minLength: 5, maxLength: 40 },
  );
  fc.assert(
    fc.property(fc.subarray(NAMES, { minLength: 2 }), moves, (names, story) => {
      let roll = rollFor(names);
      for (const { pick, failsAt, leaves, retries } of story) {
        if (leaves && pick % 5 === 0) roll = after(roll, { type: 'volumeLeft' });
        if (retries && pick % 3 === 0) roll = after(roll, { type: 'retryRequested', destination: null });
        const runs = wantedRuns(roll).filter(({ step }) => step !== 'notification');
        const run = runs[pick % Math.max(runs.length, 1)];
        if (run === undefined) continue;
        expect(findFailedRun(roll, run.id)).toEqual({ standing: 'wanted' });
        const { parcel, destination, destinations } = Inputs.parse(run.inputs);
        const failed = [...destinations, ...(destination === '' ? [] : [destination])].filter((name) =>
          failsAt.includes(name),
        );
        roll = after(roll, eventOf(run, new Set(failsAt)));
        const standing = findFailedRun(roll, run.id);
        if (run.step === 'clearance') expect(standing.standing).toBe('failed');
        else if (failed.length === 0) expect(standing).toEqual({ standing: 'past' });
        else if (run.step === 'seal')
          expect(standing).toMatchObject({ step: 'seal', wish: { destination, step: 'seal' } });
        else if (standing.standing === 'failed')
          expect(standing.wish.run).toEqual({ parcel, destinations: expect.toSatisfy(isOf(failed)) });
        else expect.unreachable(`${run.id} is ${standing.standing}`);
        found.set(run.step, (found.get(run.step) ?? 0) + (failed.length > 0 ? 1 : 0));
        if (standing.standing !== 'failed' || run.step === 'clearance') continue;
        // Tried again, it is another run, and this one is past.
        const again = after(roll, { type: 'retryRequested', ...standing.wish });
        expect(again).not.toBe(roll);
        expect(findFailedRun(again, run.id)).toEqual({ standing: 'past' });
      }
    }),
    { numRuns: 300 },
  );
  for (const step of ['ingest', 'recopy', 'checksum', 'seal']) expect(found.get(step)).toBeGreaterThan(5);
});

function isOf(names: readonly string[]): (given: unknown) => boolean {
  return (given) =>
    Array.isArray(given) && new Set([...given, ...names]).size === names.length && given.length === names.length;
}

describe('an id', () => {
  it.each([
    ['of another roll', 'ingest-hands-20261125-abc123-1-0-0-primary'],
    ['of no destination of the roll', `ingest-${ID}-1-0-0-elsewhere`],
    ['that breaks off', `checksum-${ID}-1-0`],
    ['of a step that is never tried again by hand', `notification-${ID}-visit-1-clear`],
    ['of a step that there is not', `polish-${ID}-1-0-0-primary`],
    ['that is empty', ''],
  ])('%s is no run that could have failed', (_what, id) => {
    expect(findFailedRun(openRoll(), id)).toEqual({ standing: 'other' });
  });

  it.each([
    ['of an earlier visit', `ingest-${ID}-9-0-0-primary`],
    ['of a run that went well', `seal-${ID}-1-0-primary`],
    ['of facts that are all there', `probe-${ID}-1-due`],
    ['of the judgement that gave clear', `clearance-${ID}-1`],
  ])('%s has nothing to try again', (_what, id) => {
    expect(findFailedRun(clearRoll(), id)).toEqual({ standing: 'past' });
  });
});
