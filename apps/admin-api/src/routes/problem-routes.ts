import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { ApiProblem } from '../problems/api-problem.ts';
import { PROBLEM_KINDS, type ProblemKind } from '../problems/problem-kinds.ts';
import { answersWith } from './answers-with.ts';

const ProblemExplanation = z.object({ type: z.string(), status: z.int(), title: z.string(), explanation: z.string() });

/** Explains each kind of problem under the URI that problem documents give as their `type`. Public: it tells no state. */
export const problemRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/problems/:code',
    {
      config: { isPublic: true },
      schema: {
        operationId: 'getProblemKind',
        tags: ['problems'],
        summary: 'What a kind of problem means, and what to do',
        security: [],
        params: z.object({ code: z.string() }),
        response: answersWith(200, ProblemExplanation),
      },
    },
    async ({ params: { code } }) => {
      const kind: ProblemKind | undefined = Object.entries(PROBLEM_KINDS).find(([name]) => name === code)?.[1];
      if (kind === undefined) throw new ApiProblem('nothing-here', 'There is no such kind of problem.');
      return { type: `/problems/${code}`, ...kind };
    },
  );
};
