import type { Store } from '@quayside/job-queue';
import { planState } from '@quayside/pipeline';
import { ClipRendering, standingOf } from '@quayside/proxy-planning';
import { FolderName } from '@quayside/shoot';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { describeProxies, sumUpMade } from '../answers/describe-proxies.ts';
import { ProxiesAnswer } from '../answers/proxies-answer.ts';
import type { ApiParts } from '../api-parts.ts';
import { listOf } from '../lists/list-of.ts';
import { answersWith } from './answers-with.ts';
import { findShoot } from './find-known.ts';

const PLANNED = listOf<{ readonly clip: ProxiesAnswer['clips'][number]; readonly place: number }>({
  keys: {
    order: ({ place }) => place,
    path: ({ clip }) => clip.path,
    recorder: ({ clip }) => clip.recorder,
  },
  tie: ({ clip }) => clip.clipId,
  by: 'order',
  limit: { usual: 200, most: 2000 },
});

const Query = z.object({
  ...PLANNED.query,
  state: z.enum(['planned', 'left-out', 'not-needed', 'impossible']).optional(),
  recorder: FolderName.optional(),
  rendering: ClipRendering.shape.state.optional().describe('Only clips whose proxies stand so.'),
});

/** Which clips of a shoot get a proxy, and what these weigh and take. */
export function proxyRoutes({ store, configuration }: ApiParts): FastifyPluginAsyncZod {
  return async (app) => {
    app.get(
      '/v1/shoots/:id/proxies',
      {
        config: { rows: 'clips' },
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
        const isApprovalNeeded = configuration.proxies.approval === 'required';
        const standing = planned === null ? null : standingOf(planned.plan, await store.planWord(id), isApprovalNeeded);
        const clips = await describeProxies(store, id, {
          clips: planned?.plan.clips ?? [],
          standing: standing?.state ?? 'free',
        });
        const rows = clips.map((clip, place) => ({ clip, place }));
        const wanted = rows.filter(
          ({ clip }) =>
            (query.state === undefined || clip.state === query.state) &&
            (query.rendering === undefined || clip.rendering.state === query.rendering) &&
            (query.recorder === undefined || clip.recorder === query.recorder),
        );
        const { page, next } = PLANNED.page(wanted, query);
        return {
          plannedAt: planned?.plannedAt ?? null,
          isCurrent: await isCurrent(store, id),
          totals: planned?.plan.totals ?? null,
          budget: planned?.plan.budget ?? null,
          changes: planned?.changes ?? [],
          standing,
          made: sumUpMade(clips),
          clips: page.map(({ clip }) => clip),
          next,
        };
      },
    );
  };
}

export async function isCurrent(store: Store, shootId: string): Promise<boolean> {
  const progress = await store.shootProgress(shootId);
  return progress.planning === null || progress.planned === planState(progress);
}
