import { askForShoot } from '@quayside/job-queue';
import { FolderName, matterOf, Severity } from '@quayside/shoot';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { findingIdOf } from '../answers/finding-id.ts';
import { seenBy, ShootFinding } from '../answers/shoot-finding-answer.ts';
import type { ApiParts } from '../api-parts.ts';
import { ApiProblem } from '../problems/api-problem.ts';
import { findingsOfGuests } from './findings-of-guests.ts';
import { listOf } from '../lists/list-of.ts';
import { answersWith } from './answers-with.ts';
import { findShoot } from './find-known.ts';
import { unheardMessages } from './unheard-messages.ts';

const FindingParams = z.object({ id: FolderName, finding: z.string().regex(/^[0-9a-f]{16}$/) });
const GRAVITY = { info: 0, warning: 1, critical: 2 } as const;

const FINDINGS = listOf<ShootFinding>({
  keys: { severity: ({ severity }) => GRAVITY[severity], at: ({ at }) => at, code: ({ code }) => code },
  tie: ({ id }) => id,
  by: '-severity,-at',
  limit: { most: 1000 },
});

const Query = z.object({
  ...FINDINGS.query,
  severity: Severity.optional(),
  code: z.string().max(100).optional(),
  acknowledged: z.enum(['true', 'false']).optional(),
  recorder: FolderName.optional(),
});

/** What a person must know of a shoot: the mistakes of its takes, and whatever its rolls have to tell. */
export function shootFindingRoutes(parts: ApiParts): FastifyPluginAsyncZod {
  const { store, queue, now } = parts;
  return async (app) => {
    app.get(
      '/v1/shoots/:id/findings',
      {
        config: { rows: 'findings' },
        schema: {
          operationId: 'listShootFindings',
          tags: ['findings'],
          summary: 'The findings of a shoot, the gravest first',
          params: z.object({ id: FolderName }),
          querystring: Query,
          response: answersWith(200, z.object({ findings: z.array(ShootFinding), next: z.string().nullable() })),
        },
      },
      async ({ params: { id }, query }) => {
        await findShoot(store, id);
        const { severity, code, acknowledged, recorder } = query;
        const findings = (await findingsOf(parts, id)).filter(
          (finding) =>
            (recorder === undefined || finding.recorder === recorder) &&
            (severity === undefined || finding.severity === severity) &&
            (code === undefined || finding.code === code) &&
            (acknowledged === undefined || (acknowledged === 'true') === (finding.acknowledged !== null)),
        );
        const { page, next } = FINDINGS.page(findings, query);
        return { findings: [...page], next };
      },
    );

    app.get(
      '/v1/shoots/:id/findings/:finding',
      {
        schema: {
          operationId: 'getShootFinding',
          tags: ['findings'],
          summary: 'One finding of a shoot',
          params: FindingParams,
          response: answersWith(200, ShootFinding),
        },
      },
      async ({ params: { id, finding } }) => findFinding(parts, id, finding),
    );

    app.post(
      '/v1/shoots/:id/findings/:finding/acknowledge',
      {
        schema: {
          operationId: 'acknowledgeFinding',
          tags: ['findings'],
          summary: 'Note that a person has seen a finding; it stays so when it is worked out again',
          params: FindingParams,
          body: z.strictObject({
            by: z.string().trim().min(1).max(200),
            note: z.string().trim().max(2000).default(''),
          }),
          response: answersWith(200, ShootFinding),
        },
      },
      async ({ params: { id, finding: findingId }, body: { by, note } }) => {
        const finding = await findFinding(parts, id, findingId);
        const acknowledgement = { matter: matterOf(finding), by, note, at: now() };
        await store.acknowledge(id, acknowledgement);
        // The records beside the footage show it too.
        await askForShoot({ store, queue }, id);
        return { ...finding, acknowledged: seenBy(acknowledgement) };
      },
    );
  };
}

async function findFinding(parts: ApiParts, shootId: string, id: string): Promise<ShootFinding> {
  await findShoot(parts.store, shootId);
  const finding = (await findingsOf(parts, shootId)).find((one) => one.id === id);
  if (finding === undefined) throw new ApiProblem('finding-unknown', `Shoot "${shootId}" has no finding "${id}".`);
  return finding;
}

async function findingsOf(parts: ApiParts, shootId: string): Promise<readonly ShootFinding[]> {
  const { store } = parts;
  const grouping = await store.grouping(shootId);
  const seen = await store.acknowledgements(shootId);
  const ofRolls = (await store.rollsOfShoot(shootId)).flatMap((roll) =>
    roll.findings.map((finding) => ({
      ...finding,
      groupId: null,
      recorder: roll.recorder,
      rollId: roll.id,
      clipIds: finding.subject.path === undefined ? [] : [`${roll.id}/${finding.subject.path}`],
    })),
  );
  const ofGroups = (grouping?.findings ?? []).map((finding) => ({ ...finding, rollId: null }));
  const ofGuests = findingsOfGuests(await store.guestRuns(shootId));
  const isOpen = (await store.shoot(shootId))?.closedAt === null;
  const unheard = (await unheardMessages(parts))
    // What is about no shoot is told with those that are open.
    .filter(({ shootIds }) => shootIds.has(shootId) || (isOpen && shootIds.has(null)))
    .map((finding) => ({ ...finding, groupId: null, recorder: null, rollId: null, clipIds: [] }));
  // Several rolls may tell of one matter, say of a destination.
  const matters = new Map(
    [...ofRolls, ...ofGroups, ...ofGuests, ...unheard].map((finding) => [matterOf(finding), finding]),
  );
  return [...matters.values()].map((finding) => ({
    ...finding,
    id: findingIdOf(finding),
    acknowledged: seenBy(seen[matterOf(finding)]),
  }));
}
