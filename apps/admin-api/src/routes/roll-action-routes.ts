import { applyRollEvent } from '@quayside/job-queue';
import { FolderName, type Roll } from '@quayside/shoot';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { ApiParts } from '../api-parts.ts';
import { ApiProblem } from '../problems/api-problem.ts';
import { answersWith } from './answers-with.ts';
import { findRoll, findShoot } from './find-known.ts';

const RollId = z.object({ id: FolderName });

/** What an operator may do with a roll. Each may be asked for again: what is already so is left so. */
export function rollActionRoutes({ store, queue, now }: ApiParts): FastifyPluginAsyncZod {
  return async (app) => {
    app.post(
      '/v1/rolls/:id/move',
      {
        schema: {
          operationId: 'moveRoll',
          tags: ['rolls'],
          summary: 'Move a roll that is not sealed yet to another shoot',
          params: RollId,
          body: z.strictObject({ shootId: FolderName }),
          response: answersWith(
            202,
            z.object({ id: z.string(), shootId: z.string(), movingTo: z.string().nullable() }),
          ),
        },
      },
      async ({ params: { id }, body: { shootId } }, reply) => {
        const roll = await findRoll(store, id);
        await findShoot(store, shootId);
        refuseMove(roll, shootId);
        const event = { type: 'moveRequested', shootId } as const;
        const after = await applyRollEvent({ store, queue }, id, { event, now: now() });
        // It may have been sealed, or sent elsewhere, between the look and the change.
        if (after.shootId !== shootId && after.movingTo !== shootId) refuseMove(after, shootId);
        return reply.code(202).send({ id, shootId: after.shootId, movingTo: after.movingTo });
      },
    );

    app.post(
      '/v1/rolls/:id/judge',
      {
        schema: {
          operationId: 'judgeRoll',
          tags: ['rolls'],
          summary: 'Judge a roll again, from what lies on the media now',
          params: RollId,
          body: z.strictObject({}).nullish(),
          response: answersWith(202, z.object({ id: z.string(), judgementPending: z.boolean(), sentence: z.string() })),
        },
      },
      async ({ params: { id } }, reply) => {
        const roll = await findRoll(store, id);
        if (roll.mount === null) {
          throw new ApiProblem(
            'drive-away',
            `The drive of roll "${id}" is not there, and a roll is judged against its drive. Connect it; it is then judged by itself.`,
          );
        }
        const after = await applyRollEvent({ store, queue }, id, { event: { type: 'recheckRequested' }, now: now() });
        const judgementPending = after.judgementDue > after.judged;
        const sentence = judgementPending
          ? 'The roll is judged as soon as its work is done.'
          : 'The drive has just left; the roll is judged when it is back.';
        return reply.code(202).send({ id, judgementPending, sentence });
      },
    );
  };
}

function refuseMove(roll: Roll, shootId: string): void {
  if (roll.shootId === shootId || roll.movingTo === shootId) return;
  if (roll.movingTo !== null) {
    throw new ApiProblem(
      'roll-moving',
      `Roll "${roll.id}" is on its way to shoot "${roll.movingTo}". Wait until it has arrived.`,
    );
  }
  const sealed = Object.entries(roll.destinations).find(([, { sealedGeneration }]) => sealedGeneration !== null);
  if (sealed === undefined) return;
  throw new ApiProblem(
    'roll-sealed',
    `Roll "${roll.id}" is sealed at ${sealed[0]}, so it stays in shoot "${roll.shootId}".`,
  );
}
