import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { CODES } from '../codes/code-catalogue.ts';
import { ApiProblem } from '../problems/api-problem.ts';
import { answersWith } from './answers-with.ts';

const CodeAnswer = z.object({ code: z.string(), meaning: z.string(), remedy: z.string() });

/** Explains the codes of findings, reasons, events and errors. Public: it tells no state. */
export const codeRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/v1/codes',
    {
      config: { isPublic: true, rows: 'codes' },
      schema: {
        operationId: 'listCodes',
        tags: ['problems'],
        summary: 'What every code of a finding, a reason, an event or an error means, and what to do',
        security: [],
        response: answersWith(200, z.object({ codes: z.array(CodeAnswer) })),
      },
    },
    async () => ({
      codes: Object.entries(CODES)
        .map(([code, entry]) => ({ code, ...entry }))
        .toSorted((one, other) => (one.code < other.code ? -1 : 1)),
    }),
  );

  app.get(
    '/v1/codes/:code',
    {
      config: { isPublic: true },
      schema: {
        operationId: 'getCode',
        tags: ['problems'],
        summary: 'What one code means, and what to do',
        security: [],
        params: z.object({ code: z.string() }),
        response: answersWith(200, CodeAnswer),
      },
    },
    async ({ params: { code } }) => {
      const entry = Object.hasOwn(CODES, code) ? CODES[code] : undefined;
      if (entry === undefined)
        throw new ApiProblem(
          'nothing-here',
          'Quayside has no such code; a plugin may, and then its documents tell it.',
        );
      return { code, ...entry };
    },
  );
};
