import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { ApiParts } from '../api-parts.ts';
import { AuditEntry } from '../audit/audit-entry.ts';
import { answersWith } from './answers-with.ts';

/** Who changed what, and when. */
export function auditRoutes({ audit }: ApiParts): FastifyPluginAsyncZod {
  return async (app) => {
    app.get(
      '/v1/audit',
      {
        config: { scope: 'admin' },
        schema: {
          operationId: 'listChanges',
          tags: ['audit'],
          summary: 'The changes that people asked for, the newest first',
          querystring: z.object({ limit: z.coerce.number().int().min(1).max(1000).default(100) }),
          response: answersWith(200, z.object({ entries: z.array(AuditEntry) })),
        },
      },
      async ({ query: { limit } }) => ({ entries: [...(await audit.newest(limit))] }),
    );
  };
}
