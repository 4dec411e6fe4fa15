import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { HealthAnswer } from '../answers/health-answer.ts';
import type { ApiParts } from '../api-parts.ts';
import { VERSION } from '@quayside/shoot';
import { answersWith } from './answers-with.ts';

/** Of the time that an answer has, so that health is still answered. */
const SHARE_OF_TIME = 0.7;

const NEEDED = ['redis', 'watcher', 'worker'] as const;
const Readiness = z.object({ ready: z.boolean(), waitsFor: z.array(z.enum(NEEDED)) });

/** Whether the API lives (public), and whether the whole service does its work. */
export function healthRoutes({ store, cautions, answerWithinMs }: ApiParts): FastifyPluginAsyncZod {
  return async (app) => {
    app.get(
      '/v1/health/live',
      {
        config: { isPublic: true },
        schema: {
          operationId: 'getLiveness',
          tags: ['health'],
          summary: 'Answers as long as the API runs; needs no token',
          security: [],
          response: answersWith(200, z.object({ live: z.literal(true) })),
        },
      },
      async () => ({ live: true as const }),
    );

    app.get(
      '/v1/health/ready',
      {
        config: { isPublic: true },
        schema: {
          operationId: 'getReadiness',
          tags: ['health'],
          summary: 'Whether the service does its work now, 503 when not; needs no token',
          security: [],
          response: { ...answersWith(200, Readiness), 503: Readiness },
        },
      },
      async (_request, reply) => {
        const beats = await signsOfLife(store, answerWithinMs * SHARE_OF_TIME);
        const waitsFor = NEEDED.filter((part) => (part === 'redis' ? beats === null : beats?.[part] === undefined));
        return reply.code(waitsFor.length === 0 ? 200 : 503).send({ ready: waitsFor.length === 0, waitsFor });
      },
    );

    app.get(
      '/v1/health',
      {
        schema: {
          operationId: 'getHealth',
          tags: ['health'],
          summary: 'Whether Redis, the watcher and the worker are there',
          response: { ...answersWith(200, HealthAnswer), 503: HealthAnswer },
        },
      },
      async (_request, reply) => {
        const beats = await signsOfLife(store, answerWithinMs * SHARE_OF_TIME);
        const health: HealthAnswer = {
          ok: beats !== null && 'watcher' in beats && 'worker' in beats,
          version: VERSION,
          redis: beats === null ? 'away' : 'reachable',
          watcher: processOf(beats?.['watcher']),
          worker: processOf(beats?.['worker']),
          cautions: [...cautions],
        };
        return reply.code(beats === null ? 503 : 200).send(health);
      },
    );
  };
}

/** The heartbeats, or null when Redis does not give them soon. */
async function signsOfLife(
  store: ApiParts['store'],
  withinMs: number,
): Promise<Readonly<Record<string, string>> | null> {
  let timer: NodeJS.Timeout | undefined;
  const tooLate = new Promise<null>((resolve) => {
    timer = setTimeout(() => resolve(null), withinMs);
  });
  try {
    return await Promise.race([store.beats(), tooLate]);
  } catch {
    return null;
  } finally {
    clearTimeout(timer);
  }
}

function processOf(beat: string | undefined): HealthAnswer['watcher'] {
  return { alive: beat !== undefined, said: beat ?? null };
}
