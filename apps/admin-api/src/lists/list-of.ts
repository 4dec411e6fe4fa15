import { z } from 'zod';
import { ApiProblem } from '../problems/api-problem.ts';

type Rank = string | number | null;

export interface ListRules<Row> {
  /** What a list can be sorted by, by the name that `sort` knows it under. Null sorts last. */
  readonly keys: Readonly<Record<string, (row: Row) => Rank>>;
  /** Tells rows apart that are equal in all of these, so that the order never changes between pages. */
  readonly tie: (row: Row) => string;
  /** The order when none is asked for, as `sort` would say it. */
  readonly by: string;
  /** Rows in one page. Without a usual number all rows are given unless a number is asked for. */
  readonly limit: { readonly usual?: number; readonly most: number };
}

export interface PageQuery {
  readonly sort: string;
  readonly limit?: number | undefined;
  readonly cursor?: string | undefined;
}

/** A list that can be sorted and paged. */
export interface List<Row> {
  /** The part of a route's query that `page` takes. */
  readonly query: typeof QUERY;
  /** One page of the rows, in the order asked for, from after the row that the cursor names. @throws ApiProblem `bad-request` for a cursor of another list or order. */
  page(rows: readonly Row[], query: PageQuery): { readonly page: readonly Row[]; readonly next: string | null };
}

const QUERY = { sort: z.string().default(''), limit: z.number().optional(), cursor: z.string().optional() };

/** A list by its rules. A row that comes or goes while somebody pages neither hides another one nor shows it twice. */
export function listOf<Row>({ keys, tie, by, limit }: ListRules<Row>): List<Row> {
  const names = Object.keys(keys);
  const one = `-?(?:${names.join('|')})`;
  const count = z.coerce.number().int().min(1).max(limit.most);
  const query = {
    sort: z
      .string()
      .regex(new RegExp(`^${one}(?:,${one}){0,3}$`), `is not made of ${names.join(', ')}`)
      .default(by)
      .describe(`What to sort by, with a \`-\` from the highest down: ${names.join(', ')}; several with commas.`),
    limit:
      limit.usual === undefined
        ? count.optional().describe('Rows in one page; all when it is left out.')
        : count.default(limit.usual),
    cursor: z.string().max(1000).optional().describe('The `next` of the page before, under the same `sort`.'),
  };
  // The store gives the same list again while nothing has changed.
  const sortedBefore = new WeakMap<readonly Row[], Map<string, readonly Placed<Row>[]>>();
  const sortedBy = (rows: readonly Row[], orders: readonly Order<Row>[]): readonly Placed<Row>[] => {
    const compare = comparison(orders.map(({ isDown }) => isDown));
    return rows
      .map((row) => ({ row, place: [...orders.map(({ rank }) => rank(row)), tie(row)] }))
      .toSorted((a, b) => compare(a.place, b.place));
  };
  return {
    query: query as unknown as typeof QUERY,
    page(rows, { sort, limit: most = rows.length, cursor }) {
      const orders = sort.split(',').map((name) => orderOf(name, keys));
      const compare = comparison(orders.map(({ isDown }) => isDown));
      const placed = sortedBefore.get(rows)?.get(sort) ?? sortedBy(rows, orders);
      sortedBefore.set(rows, (sortedBefore.get(rows) ?? new Map()).set(sort, placed));
      const after = cursor === undefined ? null : placeIn(cursor, sort, orders.length + 1);
      const found = after === null ? 0 : placed.findIndex(({ place }) => compare(place, after) > 0);
      const start = found === -1 ? placed.length : found;
      const page = placed.slice(start, start + most);
      const last = page.at(-1);
      const isMore = start + most < placed.length;
      return {
        page: page.map(({ row }) => row),
        next: isMore && last !== undefined ? cursorOf(sort, last.place) : null,
      };
    },
  };
}

interface Placed<Row> {
  readonly row: Row;
  readonly place: readonly Rank[];
}

interface Order<Row> {
  readonly isDown: boolean;
  readonly rank: (row: Row) => Rank;
}

function orderOf<Row>(name: string, keys: ListRules<Row>['keys']): Order<Row> {
  const isDown = name.startsWith('-');
  return { isDown, rank: keys[isDown ? name.slice(1) : name] ?? (() => null) };
}

function comparison(down: readonly boolean[]): (one: readonly Rank[], other: readonly Rank[]) => number {
  return (one, other) => {
    for (const [index, rank] of one.entries()) {
      const order = compareRanks(rank, other[index] ?? null);
      if (order !== 0) return down[index] === true && rank !== null && other[index] !== null ? -order : order;
    }
    return 0;
  };
}

function compareRanks(one: Rank, other: Rank): number {
  if (one === other) return 0;
  if (one === null) return 1;
  if (other === null) return -1;
  return one < other ? -1 : 1;
}

/** A place as opaque text: the ranks of the last row given, never an offset. */
function cursorOf(sort: string, place: readonly Rank[]): string {
  return Buffer.from(JSON.stringify([sort, ...place])).toString('base64url');
}

function placeIn(cursor: string, sort: string, parts: number): readonly Rank[] {
  const found = Place.safeParse(parse(cursor));
  if (found.success && found.data.length === parts + 1 && found.data[0] === sort) return found.data.slice(1);
  throw new ApiProblem(
    'bad-request',
    'The cursor is not one of this list in this order. Leave it out to begin at the first page.',
    { errors: [{ detail: 'is not a cursor of this list', pointer: '#/cursor' }] },
  );
}

const Place = z.array(z.union([z.string(), z.number(), z.null()]));

function parse(cursor: string): unknown {
  try {
    return JSON.parse(Buffer.from(cursor, 'base64url').toString('utf8'));
  } catch {
    return null;
  }
}
