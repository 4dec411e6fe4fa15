import type { Store } from '@quayside/job-queue';
import { factsState } from '@quayside/pipeline';
import { FolderName, type Roll } from '@quayside/shoot';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { describeGroup, type CopiesOfRoll } from '../answers/describe-group.ts';
import { GroupAnswer } from '../answers/group-answer.ts';
import type { ApiParts } from '../api-parts.ts';
import { listOf } from '../lists/list-of.ts';
import { answersWith } from './answers-with.ts';
import { findShoot } from './find-known.ts';

interface Placed {
  readonly group: GroupAnswer;
  readonly place: number;
}

const GROUPS = listOf<Placed>({
  keys: { recorded: ({ place }) => place },
  tie: ({ group }) => group.id,
  by: 'recorded',
  limit: { usual: 200, most: 2000 },
});

const Query = z.object({
  ...GROUPS.query,
  editable: z.enum(['true', 'false']).optional().describe('Only groups that can, or cannot, be edited somewhere now.'),
});

/** The sync groups of a shoot, in the order in which they were recorded. */
export function groupRoutes({ store }: ApiParts): FastifyPluginAsyncZod {
  return async (app) => {
    app.get(
      '/v1/shoots/:id/groups',
      {
        config: { rows: 'groups' },
        schema: {
          operationId: 'listGroups',
          tags: ['shoots'],
          summary: 'What ran together, clip by clip, and from where it can be edited now',
          params: z.object({ id: FolderName }),
          querystring: Query,
          response: answersWith(
            200,
            z.object({
              groups: z.array(GroupAnswer),
              next: z.string().nullable(),
              isCurrent: z.boolean().describe('False while newer facts of clips are still being worked out.'),
            }),
          ),
        },
      },
      async ({ params: { id }, query }) => {
        await findShoot(store, id);
        const grouping = await store.grouping(id);
        const rolls = await store.rollsOfShoot(id);
        const groups = await describeGroups(store, rolls, grouping?.groups ?? []);
        const wanted = groups
          .map((group, place) => ({ group, place }))
          .filter(
            ({ group: { editableAt } }) =>
              query.editable === undefined || (query.editable === 'true') === editableAt.length > 0,
          );
        const { page, next } = GROUPS.page(wanted, query);
        return { groups: page.map(({ group }) => group), next, isCurrent: await isCurrent(store, id, rolls) };
      },
    );
  };
}

async function describeGroups(
  store: Store,
  rolls: readonly Roll[],
  groups: Parameters<typeof describeGroup>[0][],
): Promise<readonly GroupAnswer[]> {
  const byId = new Map(rolls.map((roll) => [roll.id, roll]));
  const copies = new Map<string, CopiesOfRoll>();
  for (const roll of rolls) copies.set(roll.id, await store.copies(roll.id));
  return groups.map((group) => describeGroup(group, byId, copies));
}

async function isCurrent(store: Store, shootId: string, rolls: readonly Roll[]): Promise<boolean> {
  const { grouped } = await store.shootProgress(shootId);
  return rolls.length === 0 || grouped === factsState(rolls);
}
