import { Clearance, FolderName, type Roll } from '@quayside/shoot';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { describeRoll, detailRoll } from '../answers/describe-roll.ts';
import { RollAnswer, RollDetail } from '../answers/roll-answer.ts';
import type { ApiParts } from '../api-parts.ts';
import { answersWith } from './answers-with.ts';
import { findRoll } from './find-known.ts';
import { cursorOf, placeOf } from './page-cursor.ts';

const RollQuery = z.object({
  shoot: FolderName.optional(),
  verdict: z.enum(Clearance.options.map((option) => option.shape.verdict.value)).optional(),
  limit: z.coerce.number().int().min(1).max(500).default(100),
  cursor: z.string().max(300).optional(),
});

/** Rolls to look at: all of them by page, newest first, or one with everything known of it. */
export function rollRoutes({ store }: ApiParts): FastifyPluginAsyncZod {
  return async (app) => {
    app.get(
      '/v1/rolls',
      {
        schema: {
          operationId: 'listRolls',
          tags: ['rolls'],
          summary: 'The rolls, newest first, with their verdicts',
          querystring: RollQuery,
          response: answersWith(200, z.object({ rolls: z.array(RollAnswer), next: z.string().nullable() })),
        },
      },
      async ({ query }) => {
        const known = await (query.shoot === undefined ? store.rolls() : store.rollsOfShoot(query.shoot));
        const all = known.filter((roll) => query.verdict === undefined || roll.clearance.verdict === query.verdict);
        const rest = newestFirst(all).filter(isAfter(query.cursor));
        const page = rest.slice(0, query.limit);
        const last = page.at(-1);
        return {
          rolls: await Promise.all(
            page.map(async (roll) => describeRoll(roll, await store.progress(roll.id), Date.now())),
          ),
          next: last === undefined || page.length === rest.length ? null : cursorOf([last.openedAt, last.id]),
        };
      },
    );

    app.get(
      '/v1/rolls/:id',
      {
        schema: {
          operationId: 'getRoll',
          tags: ['rolls'],
          summary: 'One roll: activity, rate, time left, verdict with its reasons, destinations, findings',
          params: z.object({ id: FolderName }),
          response: answersWith(200, RollDetail),
        },
      },
      async ({ params: { id } }) => {
        const [roll, progress] = await Promise.all([findRoll(store, id), store.progress(id)]);
        return detailRoll(roll, progress, Date.now());
      },
    );
  };
}

/** Newest first; rolls opened in the same millisecond by id, so that the order never changes between pages. */
export function newestFirst(rolls: readonly Roll[]): readonly Roll[] {
  return rolls.toSorted((a, b) => compare(b.openedAt, a.openedAt) || compare(a.id, b.id));
}

function isAfter(cursor: string | undefined): (roll: Roll) => boolean {
  if (cursor === undefined) return () => true;
  const [openedAt = '', id = ''] = placeOf(cursor, 2);
  return (roll) => roll.openedAt < openedAt || (roll.openedAt === openedAt && roll.id > id);
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
