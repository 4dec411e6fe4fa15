import { z } from 'zod';
import { cursorOf, placeOf } from './page-cursor.ts';

/** The query of a list that is given in pages. */
export const PageQuery = z.object({
  limit: z.coerce.number().int().min(1).max(2000).default(200),
  cursor: z.string().max(1000).optional(),
});

/**
 * One page of rows that are in the order of their keys, from after the row that the cursor names.
 * @throws ApiProblem `bad-request` for a cursor of another list.
 */
export function pageOf<Row>(
  rows: readonly Row[],
  keyOf: (row: Row) => string,
  { limit, cursor }: z.output<typeof PageQuery>,
): { readonly page: readonly Row[]; readonly next: string | null } {
  const after = cursor === undefined ? null : (placeOf(cursor, 1)[0] ?? '');
  // A row that is gone since is passed over: the list goes on where it would have been.
  const start = after === null ? 0 : rows.findIndex((row) => keyOf(row) > after);
  const page = start === -1 ? [] : rows.slice(start, start + limit);
  const last = page.at(-1);
  const isMore = start !== -1 && start + limit < rows.length;
  return { page, next: isMore && last !== undefined ? cursorOf([keyOf(last)]) : null };
}
