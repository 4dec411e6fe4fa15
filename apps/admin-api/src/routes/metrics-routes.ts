import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { ApiParts } from '../api-parts.ts';
import { gatherMetrics } from '../metrics/gather-metrics.ts';
import { answersWith } from './answers-with.ts';

/** A rate that is older says nothing of now. */
const RATE_COUNTS_MS = 10_000;

/** The numbers of the service, for Prometheus. */
export function metricsRoutes({ store, queue, deliveries, now }: ApiParts): FastifyPluginAsyncZod {
  return async (app) => {
    app.get(
      '/metrics',
      {
        schema: {
          operationId: 'getMetrics',
          tags: ['health'],
          summary: 'The numbers of the service, in the text format of Prometheus',
          response: {
            ...answersWith(200, z.string()),
            200: { description: 'Metrics.', content: { 'text/plain': { schema: z.string() } } },
          },
        },
      },
      async (_request, reply) => {
        const [rolls, counts, beats, told, stepTimes] = await Promise.all([
          store.awakeRolls(),
          queue.counts(),
          store.beats(),
          deliveries(),
          store.stepTimes(),
        ]);
        const all = await store.rolls();
        const rates = await Promise.all(rolls.map(({ id }) => store.progress(id)));
        const bytesPerSecond = rates.reduce(
          (total, rate) =>
            rate !== null && Date.now() - rate.at < RATE_COUNTS_MS ? total + rate.bytesPerSecond : total,
          0,
        );
        const alive = new Set(Object.keys(beats));
        const nowMs = Date.parse(now());
        const { type, text } = await gatherMetrics({
          rolls: all,
          queue: counts,
          alive,
          bytesPerSecond,
          deliveries: told,
          stepTimes,
          nowMs,
        });
        return reply.type(type).send(text);
      },
    );
  };
}
