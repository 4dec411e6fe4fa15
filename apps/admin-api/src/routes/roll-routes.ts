import { Clearance, FolderName, type Roll } from '@quayside/shoot';
import type { Store } from '@quayside/job-queue';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { describeRoll, detailRoll } from '../answers/describe-roll.ts';
import { RollAnswer, RollDetail } from '../answers/roll-answer.ts';
import type { ApiParts } from '../api-parts.ts';
import { listOf } from '../lists/list-of.ts';
import { answersWith } from './answers-with.ts';
import { findRoll } from './find-known.ts';

/** Rolls as lists give them, the newest first. */
export const ROLLS = listOf<Roll>({
  keys: {
    openedAt: (roll) => roll.openedAt,
    changedAt: (roll) => roll.changedAt,
    id: (roll) => roll.id,
    recorder: (roll) => roll.recorder,
    sizeInBytes: (roll) => roll.sizeInBytes,
    fileCount: (roll) => roll.fileCount,
  },
  tie: (roll) => roll.id,
  by: '-openedAt',
  limit: { usual: 100, most: 500 },
});

const RollQuery = z.object({
  shoot: FolderName.optional(),
  verdict: z.enum(Clearance.options.map((option) => option.shape.verdict.value)).optional(),
  recorder: FolderName.optional(),
  ...ROLLS.query,
});

/** Rolls to look at: all of them by page, newest first, or one with everything known of it. */
export function rollRoutes({ store }: ApiParts): FastifyPluginAsyncZod {
  return async (app) => {
    app.get(
      '/v1/rolls',
      {
        config: { rows: 'rolls' },
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
        const { verdict, recorder } = query;
        const isFiltered = verdict !== undefined || recorder !== undefined;
        // Unfiltered it is the store's own list, which is sorted once while nothing changes.
        const all = !isFiltered
          ? known
          : known.filter(
              (roll) =>
                (verdict === undefined || roll.clearance.verdict === verdict) &&
                (recorder === undefined || roll.recorder === recorder),
            );
        const { page, next } = ROLLS.page(all, query);
        return { rolls: await describeRolls(store, page), next };
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

/** Rolls in the words of the API. */
export async function describeRolls(store: Store, rolls: readonly Roll[]): Promise<RollAnswer[]> {
  const progress = await store.progressOf(rolls.map(({ id }) => id));
  return rolls.map((roll, index) => describeRoll(roll, progress[index] ?? null, Date.now()));
}
