import { Copy, CopyState, FolderName, type Roll } from '@quayside/shoot';
import type { Store } from '@quayside/job-queue';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { ApiParts } from '../api-parts.ts';
import { ApiProblem } from '../problems/api-problem.ts';
import { answersWith } from './answers-with.ts';
import { findRoll } from './find-known.ts';
import { cursorOf, placeOf } from './page-cursor.ts';

const CopyRow = z.object({ path: z.string(), sizeInBytes: z.int().nonnegative(), destination: z.string(), copy: Copy });
type CopyRow = z.output<typeof CopyRow>;

const CopyQuery = z.object({
  state: CopyState.optional(),
  limit: z.coerce.number().int().min(1).max(2000).default(500),
  cursor: z.string().max(200).optional(),
});

/** The copies of a roll's files: one row per file and destination, in the order in which they are copied. */
export function copyRoutes({ store }: ApiParts): FastifyPluginAsyncZod {
  return async (app) => {
    app.get(
      '/v1/rolls/:id/copies',
      {
        config: { rows: 'copies' },
        schema: {
          operationId: 'listCopies',
          tags: ['rolls'],
          summary: 'Each file of a roll at each destination, with its hashes once it is there',
          params: z.object({ id: FolderName }),
          querystring: CopyQuery,
          response: answersWith(
            200,
            z.object({ visit: z.int(), copies: z.array(CopyRow), next: z.string().nullable() }),
          ),
        },
      },
      async ({ params: { id }, query }) => {
        const roll = await findRoll(store, id);
        return { visit: roll.visit, ...(await pageOf(store, roll, query)) };
      },
    );
  };
}

/** One page, read parcel by parcel, so that a roll of ten thousand files is never held whole. */
async function pageOf(
  store: Store,
  roll: Roll,
  { state, limit, cursor }: z.output<typeof CopyQuery>,
): Promise<{ copies: CopyRow[]; next: string | null }> {
  const start = cursor === undefined ? { parcel: 0, row: 0 } : startAt(cursor, roll);
  const known = await store.copies(roll.id);
  const names = Object.keys(roll.destinations).toSorted();
  const copies: CopyRow[] = [];
  for (let parcel = start.parcel; parcel < roll.parcels.length; parcel++) {
    const files = await store.parcelFiles(roll.id, roll.visit, parcel);
    const rows = files.flatMap(({ path, sizeInBytes }) =>
      names.map((destination) => ({ path, sizeInBytes, destination, copy: known[destination]?.[path] ?? ABSENT })),
    );
    for (let row = parcel === start.parcel ? start.row : 0; row < rows.length; row++) {
      const found = rows[row];
      if (found === undefined || (state !== undefined && found.copy.state !== state)) continue;
      if (copies.length === limit) return { copies, next: cursorOf([roll.visit, parcel, row]) };
      copies.push(found);
    }
  }
  return { copies, next: null };
}

const ABSENT: Copy = { state: 'absent' };

function startAt(cursor: string, roll: Roll): { parcel: number; row: number } {
  const [visit, parcel, row] = placeOf(cursor, 3).map(Number);
  if (visit === roll.visit && isIndex(parcel) && isIndex(row)) return { parcel, row };
  throw new ApiProblem(
    'bad-request',
    'The content of the drive was listed anew since that page was given. Begin at the first page.',
    {
      errors: [{ detail: 'is of an earlier listing', pointer: '#/cursor' }],
    },
  );
}

function isIndex(value: number | undefined): value is number {
  return value !== undefined && Number.isSafeInteger(value) && value >= 0;
}
