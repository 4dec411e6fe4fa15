import { randomUUID } from 'node:crypto';
import { Rebuild } from '@quayside/job-queue';
import { FolderName } from '@quayside/shoot';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { ApiParts } from '../api-parts.ts';
import { ApiProblem } from '../problems/api-problem.ts';
import { answersWith } from './answers-with.ts';
import { oneAtATime } from './one-at-a-time.ts';

const DESCRIPTION =
  'What the view has lost or fallen behind in is taken over, never with a verdict: such a roll holds until its drive is connected and judged. Rolls that are under way, and what the view knows beyond the records, are left as they are. Every difference is told.';

/** Remaking the view from the records beside the footage: asked for here, made by the worker, and answered here. */
export function rebuildRoutes({ store, now }: ApiParts): FastifyPluginAsyncZod {
  const inTurn = oneAtATime();
  return async (app) => {
    app.post(
      '/v1/rebuild',
      {
        schema: {
          operationId: 'startRebuild',
          tags: ['health'],
          summary: 'Hold the view against the records beside the footage, and remake what it lacks',
          description: `${DESCRIPTION} What came of it is under \`GET /v1/rebuild\`.`,
          body: z.strictObject({ shootId: FolderName.describe('This shoot only.').optional() }).nullish(),
          response: answersWith(202, Rebuild),
        },
      },
      async ({ body }, reply) => {
        const rebuild = await inTurn(async () => {
          const last = await store.rebuild();
          const shootId = body?.shootId ?? null;
          if (last?.state === 'waiting' || last?.state === 'running') return sameOrRefuse(last, shootId);
          if ((await store.beats())['worker'] === undefined) throw workerAway();
          const asked: Rebuild = {
            id: randomUUID(),
            shootId,
            askedAt: now(),
            state: 'waiting',
            endedAt: null,
            report: null,
            failure: null,
          };
          await store.saveRebuild(asked);
          return asked;
        });
        return reply.code(202).send(rebuild);
      },
    );

    app.get(
      '/v1/rebuild',
      {
        schema: {
          operationId: 'getRebuild',
          tags: ['health'],
          summary: 'What came of the last remaking of the view',
          response: answersWith(200, z.object({ rebuild: Rebuild.nullable() })),
        },
      },
      async () => ({ rebuild: await store.rebuild() }),
    );
  };
}

/** Asked for twice, it is made once. */
function sameOrRefuse(last: Rebuild, shootId: string | null): Rebuild {
  if (last.shootId === shootId) return last;
  throw new ApiProblem(
    'rebuild-under-way',
    `The view is being held against the records of ${last.shootId === null ? 'all shoots' : `shoot "${last.shootId}"`} already. Ask again when that is done.`,
  );
}

function workerAway(): ApiProblem {
  return new ApiProblem(
    'worker-away',
    'The worker does not run, and it is what reads the records. See the log of the service, and ask again when it is back.',
  );
}
