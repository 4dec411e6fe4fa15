import { Finding, Severity } from '@quayside/shoot';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { ApiParts } from '../api-parts.ts';
import { answersWith } from './answers-with.ts';

const FindingRow = Finding.extend({ rollId: z.string(), shootId: z.string() });

/** What people must know, over all rolls: the gravest first, then the newest. */
export function findingRoutes({ store }: ApiParts): FastifyPluginAsyncZod {
  return async (app) => {
    app.get(
      '/v1/findings',
      {
        schema: {
          operationId: 'listFindings',
          tags: ['findings'],
          summary: 'The findings of all rolls, the gravest first',
          querystring: z.object({
            severity: Severity.optional(),
            limit: z.coerce.number().int().min(1).max(5000).default(1000),
          }),
          response: answersWith(200, z.object({ findings: z.array(FindingRow), total: z.int().nonnegative() })),
        },
      },
      async ({ query: { severity, limit } }) => {
        const all = (await store.rolls())
          .flatMap((roll) => roll.findings.map((finding) => ({ ...finding, rollId: roll.id, shootId: roll.shootId })))
          .filter((finding) => severity === undefined || finding.severity === severity)
          .toSorted((a, b) => GRAVITY[b.severity] - GRAVITY[a.severity] || (a.at < b.at ? 1 : a.at > b.at ? -1 : 0));
        return { findings: all.slice(0, limit), total: all.length };
      },
    );
  };
}

const GRAVITY = { info: 0, warning: 1, critical: 2 } as const;
