import type { Store } from '@quayside/job-queue';
import { planState } from '@quayside/pipeline';
import { FolderName } from '@quayside/shoot';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { ProxiesAnswer } from '../answers/proxies-answer.ts';
import type { ApiParts } from '../api-parts.ts';
import { answersWith } from './answers-with.ts';
import { findShoot } from './find-known.ts';
import { pageOf, PageQuery } from './pages.ts';

const Query = PageQuery.extend({
  state: z.enum(['planned', 'left-out', 'not-needed', 'impossible']).optional(),
  recorder: FolderName.optional(),
});

/** Which clips of a shoot get a proxy, and what these weigh and take. */
export function proxyRoutes({ store }: ApiParts): FastifyPluginAsyncZod {
  return async (app) => {
    app.get(
      '/v1/shoots/:id/proxies',
      {
        schema: {
          operationId: 'getProxyPlan',
          tags: ['shoots'],
          summary: 'The plan of the proxies: which clips get one and why, what they weigh and take, and in which order',
          params: z.object({ id: FolderName }),
          querystring: Query,
          response: answersWith(200, ProxiesAnswer),
        },
      },
      async ({ params: { id }, query }) => {
        await findShoot(store, id);
        const planned = await store.proxyPlan(id);
        const rows = (planned?.plan.clips ?? []).map((clip, place) => ({
          clip,
          place: String(place).padStart(8, '0'),
        }));
        const wanted = rows.filter(
          ({ clip }) =>
            (query.state === undefined || clip.state === query.state) &&
            (query.recorder === undefined || clip.recorder === query.recorder),
        );
        const { page, next } = pageOf(wanted, ({ place }) => place, query);
        return {
          plannedAt: planned?.plannedAt ?? null,
          isCurrent: await isCurrent(store, id),
          totals: planned?.plan.totals ?? null,
          budget: planned?.plan.budget ?? null,
          changes: planned?.changes ?? [],
          clips: page.map(({ clip }) => clip),
          next,
        };
      },
    );
  };
}

async function isCurrent(store: Store, shootId: string): Promise<boolean> {
  const progress = await store.shootProgress(shootId);
  return progress.planning === null || progress.planned === planState(progress);
}
