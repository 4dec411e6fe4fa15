import type { GuestRunSummary } from '@quayside/shoot';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { runWithWaits } from '../answers/runs-with-waits.ts';
import type { ApiParts } from '../api-parts.ts';
import { ApiProblem } from '../problems/api-problem.ts';
import { answersWith } from './answers-with.ts';
import type { RetryManyPlan } from './retry-many-plan.ts';

const Id = z.object({ id: z.string().regex(/^[0-9a-f]{16}$/) });
const Ordered = z.object({ id: z.string(), order: z.enum(['cancel', 'skip']) });

/** Stopping a run of a plugin's step, and leaving one out. What is asked for twice is done once. */
export function runOrderRoutes(parts: ApiParts): FastifyPluginAsyncZod {
  const { store } = parts;
  return async (app) => {
    app.post(
      '/v1/runs/:id/cancel',
      {
        schema: {
          operationId: 'cancelRun',
          tags: ['plugins'],
          summary: "Stop a run of a plugin's step that is under way; it rests until something of it changes",
          params: Id,
          body: z.strictObject({}).nullish(),
          response: answersWith(202, Ordered),
        },
      },
      async ({ params: { id } }, reply) => {
        const { state } = await findGuestRun(parts, id);
        if (state !== 'running')
          throw new ApiProblem('run-not-under-way', `Run "${id}" is not under way: it is ${state}.`);
        await store.orderGuestRun(id, 'cancel');
        return reply.code(202).send({ id, order: 'cancel' as const });
      },
    );

    app.post(
      '/v1/runs/:id/skip',
      {
        schema: {
          operationId: 'skipRun',
          tags: ['plugins'],
          summary: "Leave a run of a plugin's step out until its subject, its configuration or its plugin changes",
          params: Id,
          body: z.strictObject({}).nullish(),
          response: answersWith(202, Ordered),
        },
      },
      async ({ params: { id } }, reply) => {
        await findGuestRun(parts, id);
        await store.orderGuestRun(id, 'skip');
        return reply.code(202).send({ id, order: 'skip' as const });
      },
    );
  };
}

/** Has a run of a plugin's step made again. Null when the id is that of no such run. @throws ApiProblem when it has not failed */
export async function retryGuestRun({ store }: ApiParts, id: string): Promise<RetryManyPlan | null> {
  const run = Id.safeParse({ id }).success ? await store.guestRun(id) : null;
  if (run === null) return null;
  if (run.state === 'running')
    throw new ApiProblem('run-under-way', `Run "${id}" is being made. Wait for what comes of it.`);
  if (run.state !== 'failed' && run.state !== 'cancelled')
    throw new ApiProblem('run-not-failed', `Run "${id}" is ${run.state}, so there is nothing to try again.`);
  await store.orderGuestRun(id, 'retry');
  return {
    id,
    rolls: [],
    shootSteps: [],
    sentence: `Step ${run.step} is run again on ${run.subject.kind} ${run.subject.id}.`,
  };
}

async function findGuestRun({ store }: ApiParts, id: string): Promise<GuestRunSummary> {
  const run = await runWithWaits(store, id);
  if (run === null) throw new ApiProblem('run-unknown', `The service knows no run "${id}" of a plugin's step.`);
  return run;
}
