import { clipsOfRolls, type Store } from '@quayside/job-queue';
import { Clip, CopyState, FolderName, type Roll } from '@quayside/shoot';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { ApiParts } from '../api-parts.ts';
import { listOf } from '../lists/list-of.ts';
import { answersWith } from './answers-with.ts';
import { findShoot } from './find-known.ts';

const ClipRow = Clip.extend({
  groupIds: z
    .array(z.string())
    .describe('The sync groups that it is in; several for a recording that runs through takes.'),
  copies: z.record(z.string(), CopyState).describe('The state of its copy by destination.'),
});

const CLIPS = listOf<Clip>({
  keys: {
    id: (clip) => clip.id,
    recorder: (clip) => clip.recorder,
    path: (clip) => clip.path,
    sizeInBytes: (clip) => clip.sizeInBytes,
    modifiedAt: (clip) => clip.modifiedAt,
    durationMs: (clip) => clip.facts.durationMs,
  },
  tie: (clip) => clip.id,
  by: 'id',
  limit: { usual: 200, most: 2000 },
});

const Query = z.object({
  recorder: FolderName.optional(),
  roll: FolderName.optional(),
  kind: z.enum(['picture', 'sound', 'other']).optional(),
  ...CLIPS.query,
});

/** The clips of a shoot: what each file is, and where it is. */
export function clipRoutes({ store }: ApiParts): FastifyPluginAsyncZod {
  return async (app) => {
    app.get(
      '/v1/shoots/:id/clips',
      {
        config: { rows: 'clips' },
        schema: {
          operationId: 'listClips',
          tags: ['shoots'],
          summary: 'The clips of a shoot with their facts, by roll and path',
          params: z.object({ id: FolderName }),
          querystring: Query,
          response: answersWith(200, z.object({ clips: z.array(ClipRow), next: z.string().nullable() })),
        },
      },
      async ({ params: { id }, query }) => {
        await findShoot(store, id);
        const rolls = (await store.rollsOfShoot(id)).filter(
          (roll) =>
            (query.recorder === undefined || roll.recorder === query.recorder) &&
            (query.roll === undefined || roll.id === query.roll),
        );
        const clips = (await clipsOfRolls(store, rolls)).filter(
          ({ facts }) => query.kind === undefined || facts.kind === query.kind,
        );
        const { page, next } = CLIPS.page(clips, query);
        return { clips: await withPlaces(store, { shootId: id, rolls }, page), next };
      },
    );
  };
}

async function withPlaces(
  store: Store,
  { shootId, rolls }: { readonly shootId: string; readonly rolls: readonly Roll[] },
  clips: readonly Clip[],
): Promise<z.output<typeof ClipRow>[]> {
  const groups = (await store.grouping(shootId))?.groups ?? [];
  const groupsOf = Map.groupBy(
    groups.flatMap((group) => group.members.map(({ clipId }) => ({ clipId, groupId: group.id }))),
    ({ clipId }) => clipId,
  );
  const rows: z.output<typeof ClipRow>[] = [];
  for (const [rollId, own] of Map.groupBy(clips, (clip) => clip.rollId)) {
    const copies = await store.copies(rollId);
    const names = Object.keys(rolls.find((roll) => roll.id === rollId)?.destinations ?? {}).toSorted();
    for (const clip of own) {
      rows.push({
        ...clip,
        groupIds: (groupsOf.get(clip.id) ?? []).map(({ groupId }) => groupId),
        copies: Object.fromEntries(names.map((name) => [name, copies[name]?.[clip.path]?.state ?? 'absent'])),
      });
    }
  }
  return rows;
}
