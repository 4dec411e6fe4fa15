import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { PROBLEM_KINDS, type ProblemCode, type ProblemKind } from '../problems/problem-kinds.ts';
import { answersWith } from './answers-with.ts';

const ProblemExplanation = z.object({ type: z.string(), status: z.int(), title: z.string(), explanation: z.string() });

// A list of keys is text to the compiler.
const CODES = Object.keys(PROBLEM_KINDS) as ProblemCode[];

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
        params: z.object({ code: z.enum(CODES) }),
        response: answersWith(200, ProblemExplanation),
      },
    },
    async ({ params: { code } }) => {
      const kind: ProblemKind = PROBLEM_KINDS[code];
      return { type: `/problems/${code}`, ...kind };
    },
  );
};
