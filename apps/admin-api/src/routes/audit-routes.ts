import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { ApiParts } from '../api-parts.ts';
import { AuditEntry } from '../audit/audit-entry.ts';
import { listOf } from '../lists/list-of.ts';
import { answersWith } from './answers-with.ts';

const ENTRIES = listOf<{ readonly entry: AuditEntry; readonly place: number }>({
  // The order in which they were written, which clocks that are set back do not change.
  keys: { at: ({ place }) => place },
  tie: () => '',
  by: '-at',
  limit: { usual: 100, most: 1000 },
});

/** Who changed what, and when. */
export function auditRoutes({ audit }: ApiParts): FastifyPluginAsyncZod {
  return async (app) => {
    app.get(
      '/v1/audit',
      {
        config: { scope: 'admin', rows: 'entries' },
        schema: {
          operationId: 'listChanges',
          tags: ['audit'],
          summary: 'The changes that people asked for, the newest first',
          querystring: z.object({
            by: z.string().max(200).optional().describe('Only those that this one says to have asked for.'),
            action: z.string().max(400).optional().describe('Only those whose method and path hold this.'),
            ...ENTRIES.query,
          }),
          response: answersWith(200, z.object({ entries: z.array(AuditEntry), next: z.string().nullable() })),
        },
      },
      async ({ query }) => {
        const wanted = (await audit.all())
          .map((entry, place) => ({ entry, place }))
          .filter(
            ({ entry: { by, action } }) =>
              (query.by === undefined || by === query.by) &&
              (query.action === undefined || action.includes(query.action)),
          );
        const { page, next } = ENTRIES.page(wanted, query);
        return { entries: page.map(({ entry }) => entry), next };
      },
    );
  };
}
