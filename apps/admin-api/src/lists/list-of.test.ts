import fc from 'fast-check';
import { expect, it } from 'vitest';
import { listOf } from './list-of.ts';

interface Take {
  readonly id: string;
  readonly size: number;
  readonly label: string | null;
}

const TAKES = listOf<Take>({
  keys: { size: ({ size }) => size, label: ({ label }) => label },
  tie: ({ id }) => id,
  by: '-size',
  limit: { usual: 2, most: 10 },
});

const takes = fc.uniqueArray(
  fc.record({
    id: fc.stringMatching(/^[a-z]{1,3}$/),
    size: fc.integer({ min: 0, max: 3 }),
    label: fc.option(fc.constantFrom('a', 'b')),
  }),
  { selector: ({ id }) => id, maxLength: 20 },
);
const order = fc.constantFrom('size', '-size', 'label', '-label', 'label,-size', '-label,size');

/** All pages one after another; between two of them the rows may change. */
function walk(rows: readonly Take[], sort: string, change: (rows: readonly Take[]) => readonly Take[]): string[] {
  const ids: string[] = [];
  let cursor: string | undefined;
  let now = rows;
  do {
    const { page, next } = TAKES.page(now, { sort, limit: 3, cursor });
    ids.push(...page.map(({ id }) => id));
    cursor = next ?? undefined;
    now = change(now);
  } while (cursor !== undefined);
  return ids;
}

function sorted(rows: readonly Take[], sort: string): string[] {
  return TAKES.page(rows, { sort }).page.map(({ id }) => id);
}

it('pages give every row once, in the order of the whole list, whatever it is sorted by', () => {
  fc.assert(
    fc.property(takes, order, (rows, sort) => {
      expect(walk(rows, sort, (same) => same.toReversed())).toEqual(sorted(rows, sort));
    }),
  );
});

it('a row that comes while somebody pages neither hides another one nor shows it twice', () => {
  fc.assert(
    fc.property(takes, order, fc.integer({ min: 0, max: 3 }), (rows, sort, size) => {
      let count = 0;
      const ids = walk(rows, sort, (before) => [{ id: `new-${count++}`, size, label: null }, ...before].slice(0, 60));
      expect(ids.filter((id) => !id.startsWith('new-'))).toEqual(sorted(rows, sort));
      expect(new Set(ids).size).toBe(ids.length);
    }),
    { numRuns: 50 },
  );
});

it('what is unknown comes last, from either side, and equal rows go by their name', () => {
  const rows = ['c', 'b', 'a'].map((id) => ({ id, size: 1, label: id === 'a' ? null : 'x' }));
  expect(sorted(rows, 'label')).toEqual(['b', 'c', 'a']);
  expect(sorted(rows, '-label')).toEqual(['b', 'c', 'a']);
  expect(sorted(rows, '-size')).toEqual(['a', 'b', 'c']);
});

it('a cursor counts in the order in which it was given only', () => {
  const rows = ['a', 'b'].map((id) => ({ id, size: 1, label: null }));
  const { next } = TAKES.page(rows, { sort: 'size', limit: 1 });
  expect(() => TAKES.page(rows, { sort: '-size', cursor: next ?? '' })).toThrow('not one of this list');
});
