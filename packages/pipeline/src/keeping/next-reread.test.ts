import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { KeptCopy } from './kept-copies.ts';
import { isDoneSince, nextReread, nextWished } from './next-reread.ts';

const DAY_MS = 86_400_000;
const START_MS = 1_800_000_000_000;
// `Date` is kept out of this package's sources, not out of its tests.
const at = (days: number): string => new Date(START_MS + days * DAY_MS).toISOString();
const plan = { everyMs: 30 * DAY_MS, msOf: (instant: string) => Date.parse(instant) };

function kept(rollId: string, readBackAt: string, change: Partial<KeptCopy> = {}): KeptCopy {
  return {
    rollId,
    shootId: 'class',
    destination: 'primary',
    fileCount: 1,
    sizeInBytes: 100,
    readBackAt,
    reread: null,
    ...change,
  };
}

/** Lets `days` go by, in steps of a quarter of an hour in which nothing is begun while `isPaused`; tells what was read when. */
function simulate(
  copies: readonly KeptCopy[],
  days: number,
  isPaused: (day: number) => boolean,
): Map<string, number[]> {
  const read = new Map<string, number[]>();
  let state = copies;
  for (let day = 0; day < days; day += 1 / 96) {
    const next = isPaused(day) ? null : nextReread(state, plan);
    if (next === null || next.dueMs > START_MS + day * DAY_MS) continue;
    const { rollId } = next.copy;
    read.set(rollId, [...(read.get(rollId) ?? []), day]);
    const reread = { since: at(day), isUnderWay: false, hasFailed: false };
    state = state.map((copy) => (copy === next.copy ? { ...copy, readBackAt: at(day), reread } : copy));
  }
  return read;
}

describe('what is read again by itself', () => {
  it('is the longest unread, and nothing where it is turned off', () => {
    const copies = [kept('b', at(2)), kept('a', at(1)), kept('c', at(3))];
    expect(nextReread(copies, plan)?.copy.rollId).toBe('a');
    expect(nextReread(copies, { ...plan, everyMs: null })).toBeNull();
    expect(nextReread([], plan)).toBeNull();
  });

  it('is spread evenly over the days by its size, not all on the day a shoot was sealed', () => {
    const copies = Array.from({ length: 27 }, (_, index) => kept(`roll-${index}`, at(0)));
    const read = simulate(copies, 30, () => false);
    const perDay = Array.from({ length: 27 }, (_, day) =>
      [...read.values()].flat().filter((one) => Math.floor(one) === day),
    );
    expect(read.size).toBe(27);
    for (const day of perDay.slice(1)) expect(day.length).toBeLessThanOrEqual(2);
    const half = [...read.values()].flat().filter((day) => day < 14);
    expect(half.length).toBeGreaterThanOrEqual(12);
    expect(half.length).toBeLessThanOrEqual(15);
  });

  it('leaves nothing unread for longer than the days that are given, though drives were taken in for half of each day', () => {
    const someCopies = fc.array(
      fc.record({ age: fc.integer({ min: 0, max: 25 }), sizeInBytes: fc.integer({ min: 0, max: 1000 }) }),
      {
        minLength: 1,
        maxLength: 12,
      },
    );
    fc.assert(
      fc.property(someCopies, (given) => {
        const copies = given.map(({ age, sizeInBytes }, index) => kept(`roll-${index}`, at(-age), { sizeInBytes }));
        const read = simulate(copies, 65, (day) => day % 1 < 0.5);
        for (const copy of copies) {
          const days = [(Date.parse(copy.readBackAt) - START_MS) / DAY_MS, ...(read.get(copy.rollId) ?? [])];
          days.slice(1).forEach((day, index) => expect(day - (days[index] ?? 0)).toBeLessThanOrEqual(30));
          expect(65 - (days.at(-1) ?? 0)).toBeLessThanOrEqual(30);
        }
      }),
      { numRuns: 40 },
    );
  });

  it('goes at once when it is overdue, whatever was read a moment ago', () => {
    const fresh = kept('fresh', at(99.9), { reread: { since: at(99.9), isUnderWay: false, hasFailed: false } });
    expect(nextReread([fresh, kept('late', at(50))], plan)).toMatchObject({
      copy: { rollId: 'late' },
      dueMs: Date.parse(at(77)),
    });
  });

  it('does not come back to what could not be read before the others had their turn', () => {
    const failed = kept('failed', at(1), { reread: { since: at(40), isUnderWay: false, hasFailed: true } });
    const next = nextReread([failed, kept('other', at(20))], plan);
    expect(next?.copy.rollId).toBe('other');
    expect(nextReread([failed], plan)?.dueMs).toBe(Date.parse(at(67)));
  });

  it('leaves alone what is under way', () => {
    const busy = kept('busy', at(1), { reread: { since: at(40), isUnderWay: true, hasFailed: false } });
    expect(nextReread([busy], plan)).toBeNull();
  });
});

describe('what a person has asked for', () => {
  const since = at(50);
  const copies = [
    kept('a', at(3)),
    kept('b', at(2), { destination: 'backup' }),
    kept('c', at(1), { shootId: 'other' }),
    kept('done', at(51)),
    kept('hopeless', at(1), { reread: { since: at(51), isUnderWay: false, hasFailed: true } }),
  ];

  it('is a shoot or a destination, the longest unread first, until all has been read since, or could not be', () => {
    expect(nextWished(copies, { kind: 'shoot', id: 'class', since })?.rollId).toBe('b');
    expect(nextWished(copies, { kind: 'destination', id: 'primary', since })?.rollId).toBe('c');
    expect(nextWished(copies, { kind: 'destination', id: 'vault', since })).toBeNull();
    expect(nextWished(copies, { kind: 'shoot', id: 'class', since: at(0) })).toBeNull();
  });

  it('is not done while it is being read', () => {
    const reread = { since: at(51), isUnderWay: true, hasFailed: false };
    expect(isDoneSince(kept('a', at(60), { reread }), since)).toBe(false);
    expect(isDoneSince(kept('a', at(60), { reread: { ...reread, isUnderWay: false } }), since)).toBe(true);
  });
});
