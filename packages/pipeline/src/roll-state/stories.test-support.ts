import type { Clearance, Failure, Finding, Roll } from '@quayside/shoot';
import fc from 'fast-check';
import { z } from 'zod';
import { advance } from './advance.ts';
import { RETRY_STEPS, type RollEvent } from './roll-event.ts';
import { CLEAR, FULL, HELD, listedRoll, MISMATCH, NOW, openRoll, recordedRoll } from './roll.test-support.ts';
import { wantedRuns } from './wanted-runs.ts';

const destination = fc.constantFrom('primary', 'backup');
const AGAIN: Failure = { code: 'COPIES_AWAY', sentence: 'They are away.', retry: 'later' };
const FACTS_MISSING: Finding = {
  code: 'FACTS_MISSING',
  severity: 'warning',
  subject: { kind: 'clip', id: 'wheel-20261125-abc123', path: 'CLIPS/0.MOV' },
  why: 'What it is could not be read.',
  remedy: 'Look at it.',
  at: NOW,
};
const failure = fc.option(fc.constantFrom<Failure>(MISMATCH, FULL, AGAIN), { nil: null });
const visit = fc.integer({ min: 1, max: 3 });
const parcel = fc.integer({ min: 0, max: 2 });
const sinceWhen = fc.constantFrom('2027-03-01T02:00:00.000Z', '2027-04-01T02:00:00.000Z');
const clearance = fc.constantFrom<Clearance>(CLEAR, HELD);
const mount = fc.integer({ min: 50, max: 60 }).map((id) => ({ path: '/media/x', mountId: String(id), device: '8:1' }));

/** Any event, in any order, with right and wrong numbers in it: also what a crash or a second worker could bring. */
export const anyEvent: fc.Arbitrary<RollEvent> = fc.oneof(
  fc.record({ type: fc.constant('parcelStarted' as const), visit, parcel, destinations: fc.uniqueArray(destination) }),
  fc.record({
    type: fc.constant('parcelCopied' as const),
    visit,
    parcel,
    outcome: fc.dictionary(destination, failure),
    findings: fc.constant([]),
  }),
  fc.record({
    type: fc.constant('parcelRecopied' as const),
    visit,
    parcel,
    from: destination,
    fromFailure: failure,
    outcome: fc.dictionary(destination, failure),
    findings: fc.constant([]),
  }),
  fc.record({
    type: fc.constant('parcelReadBack' as const),
    visit,
    parcel,
    destination,
    failure,
    findings: fc.constant([]),
  }),
  fc.record({
    type: fc.constant('sealed' as const),
    visit,
    destination,
    attempt: fc.integer({ min: 0, max: 2 }),
    generation: fc.integer({ min: 1, max: 3 }),
  }),
  fc.record({
    type: fc.constant('sealFailed' as const),
    visit,
    destination,
    attempt: fc.integer({ min: 0, max: 2 }),
    failure: fc.constant(MISMATCH),
  }),
  fc.record({
    type: fc.constant('judged' as const),
    due: fc.integer({ min: 0, max: 6 }),
    clearance,
    findings: fc.constant([]),
    bad: fc.array(fc.record({ parcel, destination, failure: fc.constant(MISMATCH) }), { maxLength: 2 }),
  }),
  fc.record({
    type: fc.constant('rereadRequested' as const),
    destinations: fc.uniqueArray(destination),
    since: sinceWhen,
  }),
  fc.record({
    type: fc.constant('parcelReread' as const),
    visit,
    destination,
    since: sinceWhen,
    parcel,
    badFiles: fc.nat({ max: 3 }),
    failure: fc.option(fc.constant(MISMATCH), { nil: null }),
    findings: fc.constant([]),
  }),
  fc.record({
    type: fc.constant('rereadRecorded' as const),
    visit,
    destination,
    since: sinceWhen,
    generation: fc.integer({ min: 1, max: 3 }),
    readBackAt: sinceWhen,
  }),
  fc.record({
    type: fc.constant('rereadFailed' as const),
    visit,
    destination,
    since: sinceWhen,
    failure: fc.constant(AGAIN),
    findings: fc.constant([]),
  }),
  fc.record({
    type: fc.constant('factsRead' as const),
    visit,
    isComplete: fc.boolean(),
    findings: fc.constantFrom([], [FACTS_MISSING]),
  }),
  fc.record({ type: fc.constant('ordered' as const), visit, order: fc.array(fc.nat({ max: 4 }), { maxLength: 4 }) }),
  fc.constant<RollEvent>({ type: 'volumeLeft' }),
  fc.constant<RollEvent>({ type: 'volumeSought' }),
  fc.record({ type: fc.constant('volumeSilent' as const), mountId: fc.constantFrom('41', '42', '55') }),
  fc.record({
    type: fc.constant('parcelInterrupted' as const),
    visit,
    parcel,
    partBytes: fc.dictionary(destination, fc.nat({ max: 200 })),
  }),
  fc.record({ type: fc.constant('volumeReturned' as const), mount }),
  fc.constant<RollEvent>({ type: 'volumeChanged' }),
  fc.record({ type: fc.constant('destinationReturned' as const), destination }),
  fc.record({ type: fc.constant('retryRequested' as const), destination: fc.option(destination, { nil: null }) }),
  fc.record(
    {
      type: fc.constant('retryRequested' as const),
      destination: fc.option(destination, { nil: null }),
      step: fc.constantFrom(...RETRY_STEPS),
      run: fc.record({ parcel, destinations: fc.uniqueArray(destination) }),
      isOneOfMany: fc.boolean(),
    },
    { requiredKeys: ['type', 'destination'] },
  ),
  fc.record({ type: fc.constant('moveRequested' as const), shootId: fc.constantFrom('a', 'b') }),
  fc.record({ type: fc.constant('moved' as const), shootId: fc.constantFrom('a', 'b') }),
  fc.constant<RollEvent>({ type: 'recheckRequested' }),
  fc.constant<RollEvent>({ type: 'retryDue' }),
  fc
    .record({
      visit: fc.integer({ min: 1, max: 4 }),
      sealedAt: fc.constantFrom(NOW, '2026-11-25T11:00:00.000Z'),
      provenAt: fc.array(fc.uniqueArray(destination), { minLength: 1, maxLength: 3 }),
      destinations: fc.dictionary(
        destination,
        fc.record({ generation: fc.integer({ min: 1, max: 3 }), readBackAt: sinceWhen }),
      ),
    })
    .map(({ provenAt, ...record }): RollEvent => ({
      type: 'recordFound',
      record: recordedRoll({
        ...record,
        parcels: provenAt.map((names, index) => ({
          firstPath: `CLIPS/${index}.MOV`,
          fileCount: 1,
          sizeInBytes: 100,
          provenAt: names,
        })),
      }),
    })),
  fc.integer({ min: 1, max: 3 }).map((count): RollEvent => ({
    type: 'listed',
    roll: { ...listedRoll(count), facts: 'due', fingerprint: `f${count}`, repairLimit: count - 1 },
  })),
);

/** Beside loose events, what a worker does: one of the wanted runs is made, well or badly. Without it no story gets far. */
export interface Work {
  readonly pick: number;
  readonly failure: Failure | null;
  readonly verdict: Clearance;
}
export const work = fc.record({
  pick: fc.nat(),
  failure: fc.oneof({ weight: 6, arbitrary: fc.constant(null) }, failure),
  verdict: clearance,
});
export const anyStory = fc.array(fc.oneof({ weight: 1, arbitrary: anyEvent }, { weight: 8, arbitrary: work }), {
  minLength: 20,
  maxLength: 80,
});

export const Inputs = z.object({
  visit: z.number().default(0),
  parcel: z.number().default(0),
  destination: z.string().default(''),
  destinations: z.array(z.string()).default([]),
  from: z.string().default(''),
  attempt: z.number().default(0),
  due: z.number().default(0),
  since: z.string().default(''),
  toShoot: z.string().default(''),
  matter: z.string().default(''),
});

function eventOf(roll: Roll, { pick, failure: failed, verdict }: Work): RollEvent | null {
  const runs = wantedRuns(roll);
  const run = runs[pick % Math.max(runs.length, 1)];
  if (run === undefined) return null;
  const inputs = Inputs.parse(run.inputs);
  const { visit: at, parcel: index, destination: name, attempt } = inputs;
  switch (run.step) {
    case 'ingest':
      return {
        type: 'parcelCopied',
        visit: at,
        parcel: index,
        outcome: { primary: failed, backup: null },
        findings: [],
      };
    case 'recopy':
      return {
        type: 'parcelRecopied',
        visit: at,
        parcel: index,
        from: inputs.from,
        fromFailure: pick % 3 === 0 ? failed : null,
        outcome: Object.fromEntries(inputs.destinations.map((one) => [one, pick % 3 === 1 ? failed : null])),
        findings: [],
      };
    case 'checksum':
      return { type: 'parcelReadBack', visit: at, parcel: index, destination: name, failure: failed, findings: [] };
    case 'seal':
      return { type: 'sealed', visit: at, destination: name, attempt, generation: 1 };
    case 'reread': {
      const found = { badFiles: failed === MISMATCH ? 1 : 0, failure: failed === MISMATCH ? MISMATCH : null };
      return {
        type: 'parcelReread',
        visit: at,
        destination: name,
        since: inputs.since,
        parcel: index,
        ...found,
        findings: [],
      };
    }
    case 'attest': {
      const about = { visit: at, destination: name, since: inputs.since };
      return { type: 'rereadRecorded', ...about, generation: 2, readBackAt: inputs.since };
    }
    case 'probe':
      return {
        type: 'factsRead',
        visit: at,
        isComplete: failed === null,
        findings: pick % 2 === 0 ? [FACTS_MISSING] : [],
      };
    case 'clearance': {
      const bad = failed === MISMATCH ? [{ parcel: 0, destination: 'backup', failure: MISMATCH }] : [];
      return { type: 'judged', due: inputs.due, clearance: verdict, findings: [], bad };
    }
    case 'move':
      return { type: 'moved', shootId: inputs.toShoot };
    default:
      return { type: 'told', matter: inputs.matter };
  }
}

/** Takes a roll through a story, from an opened one on, and has a look at every change. */
export function follow(
  story: readonly (RollEvent | Work)[],
  look: (before: Roll, event: RollEvent, after: Roll) => void,
  from: Roll = openRoll(listedRoll(1)),
): void {
  let roll = from;
  for (const step of story) {
    const event = 'type' in step ? step : eventOf(roll, step);
    if (event === null) continue;
    const after = advance(roll, event, NOW);
    look(roll, event, after);
    roll = after;
  }
}
