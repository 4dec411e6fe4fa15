import type { RereadWish } from '@quayside/pipeline';
import { FolderName, Instant, type Roll } from '@quayside/shoot';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { describeVerify, describeVerifyProgress } from '../answers/describe-verify.ts';
import { VerifyAnswer, VerifyProgress } from '../answers/verify-answer.ts';
import type { ApiParts } from '../api-parts.ts';
import { ApiProblem } from '../problems/api-problem.ts';
import { answersWith } from './answers-with.ts';
import { findShoot } from './find-known.ts';

const KINDS = [
  {
    kind: 'shoot',
    name: 'Shoot',
    url: '/v1/shoots/:id/verify',
    tags: ['shoots'],
    what: 'of a shoot, at every destination',
  },
  {
    kind: 'destination',
    name: 'Destination',
    url: '/v1/destinations/:id/verify',
    tags: ['destinations'],
    what: 'at a destination',
  },
] as const;

/** Having what is kept read again: to ask for it, and to see how far it is. Asked for again while it goes on, it stays one request. */
export function verifyRoutes({ store, configuration, now }: ApiParts): FastifyPluginAsyncZod {
  const throwIfUnknown = async (kind: RereadWish['kind'], id: string): Promise<void> => {
    if (kind === 'shoot') return void (await findShoot(store, id));
    const names = configuration.destinations.map(({ name }) => name);
    if (names.includes(id)) return;
    throw new ApiProblem(
      'destination-unknown',
      `The configuration has no destination "${id}"; it has ${names.join(', ')}.`,
    );
  };
  /** All of them: a drive that is being taken in may be of another shoot. */
  const rollsNow = (): Promise<readonly Roll[]> => store.rolls();

  return async (app) => {
    for (const { kind, name, url, tags, what } of KINDS) {
      app.post(
        url,
        {
          schema: {
            tags: [...tags],
            operationId: `verify${name}`,
            summary: `Read everything ${what} again from its medium, and make anew what is bad`,
            params: z.object({ id: FolderName }),
            body: z.strictObject({}).nullish(),
            response: answersWith(202, VerifyAnswer),
          },
        },
        async ({ params: { id } }, reply) => {
          await throwIfUnknown(kind, id);
          const asked: RereadWish = { kind, id, since: now() };
          const plan = describeVerify(await rollsNow(), asked);
          if (plan.files === 0) return reply.code(202).send(plan);
          const standing = await store.wishReread(asked);
          return reply.code(202).send({ ...plan, since: standing.since });
        },
      );

      app.get(
        url,
        {
          schema: {
            tags: [...tags],
            operationId: `get${name}Verify`,
            summary: `How far the reading ${what} is that was asked for at a moment`,
            params: z.object({ id: FolderName }),
            querystring: z.object({ since: Instant.describe('As the request was answered.') }),
            response: answersWith(200, VerifyProgress),
          },
        },
        async ({ params: { id }, query: { since } }) => {
          await throwIfUnknown(kind, id);
          return describeVerifyProgress(await rollsNow(), { kind, id, since }, now());
        },
      );
    }
  };
}
