import { Finding, FolderName, matterOf, Severity } from '@quayside/shoot';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { ApiParts } from '../api-parts.ts';
import { listOf } from '../lists/list-of.ts';
import { answersWith } from './answers-with.ts';
import { unheardMessages } from './unheard-messages.ts';

/** Both are null for what is about no roll. */
const FindingRow = Finding.extend({ rollId: z.string().nullable(), shootId: z.string().nullable() });

const GRAVITY = { info: 0, warning: 1, critical: 2 } as const;

const FINDINGS = listOf<z.output<typeof FindingRow>>({
  keys: {
    severity: ({ severity }) => GRAVITY[severity],
    at: ({ at }) => at,
    code: ({ code }) => code,
    rollId: ({ rollId }) => rollId,
  },
  tie: (finding) => `${finding.rollId} ${matterOf(finding)}`,
  by: '-severity,-at',
  limit: { usual: 1000, most: 5000 },
});

/** What people must know, over all rolls, and of the messages that nobody got: the gravest first, then the newest. */
export function findingRoutes({ store, deliveries, configuration }: ApiParts): FastifyPluginAsyncZod {
  return async (app) => {
    app.get(
      '/v1/findings',
      {
        config: { rows: 'findings' },
        schema: {
          operationId: 'listFindings',
          tags: ['findings'],
          summary: 'The findings of all rolls and of channels that do not work, the gravest first',
          querystring: z.object({
            severity: Severity.optional(),
            code: z.string().max(100).optional(),
            shoot: FolderName.optional(),
            ...FINDINGS.query,
          }),
          response: answersWith(
            200,
            z.object({ findings: z.array(FindingRow), total: z.int().nonnegative(), next: z.string().nullable() }),
          ),
        },
      },
      async ({ query }) => {
        const { severity, code, shoot } = query;
        const rolls = await (shoot === undefined ? store.rolls() : store.rollsOfShoot(shoot));
        const ofRolls = rolls.flatMap((roll) =>
          roll.findings.map((finding) => ({ ...finding, rollId: roll.id, shootId: roll.shootId })),
        );
        const unheard = (await unheardMessages({ deliveries, configuration }))
          .filter(({ shootIds }) => shoot === undefined || shootIds.has(shoot))
          .map((finding) => ({ ...finding, rollId: null, shootId: null }));
        const all = [...ofRolls, ...unheard].filter(
          (finding) =>
            (severity === undefined || finding.severity === severity) && (code === undefined || finding.code === code),
        );
        const { page, next } = FINDINGS.page(all, query);
        return { findings: [...page], total: all.length, next };
      },
    );
  };
}
