import { FolderName, VolumeIdentity, VolumeStanding } from '@quayside/shoot';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { describeVolume } from '../answers/describe-volume.ts';
import { VolumeAnswer } from '../answers/volume-answer.ts';
import type { ApiParts } from '../api-parts.ts';
import { ApiProblem } from '../problems/api-problem.ts';
import { listOf } from '../lists/list-of.ts';
import { answersWith } from './answers-with.ts';
import { findVolume } from './find-known.ts';

const VOLUMES = listOf<VolumeAnswer>({
  keys: {
    isAway: ({ mountPath }) => Number(mountPath === null),
    key: ({ key }) => key,
    label: ({ label }) => label,
    recorder: ({ recorder }) => recorder,
    seenAt: ({ seenAt }) => seenAt,
    sizeInBytes: ({ sizeInBytes }) => sizeInBytes,
  },
  tie: ({ key }) => key,
  by: 'isAway,key',
  limit: { most: 1000 },
});

const VolumeKey = z.object({ key: VolumeIdentity.shape.key.max(200) });

/** Volumes: to look at, and to say which recorder's they are. */
export function volumeRoutes({ store, configuration, now }: ApiParts): FastifyPluginAsyncZod {
  return async (app) => {
    app.get(
      '/v1/volumes',
      {
        config: { rows: 'volumes' },
        schema: {
          operationId: 'listVolumes',
          tags: ['volumes'],
          summary: 'Every volume that the service has seen, those that are connected first',
          querystring: z.object({
            recorder: FolderName.optional(),
            standing: VolumeStanding.optional(),
            connected: z.enum(['true', 'false']).optional(),
            ...VOLUMES.query,
          }),
          response: answersWith(200, z.object({ volumes: z.array(VolumeAnswer), next: z.string().nullable() })),
        },
      },
      async ({ query }) => {
        const [volumes, assignments] = await Promise.all([store.volumes(), store.assignments()]);
        const { connected } = query;
        const wanted = volumes
          .filter(({ mount }) => connected === undefined || (connected === 'true') === (mount !== null))
          .map((volume) => describeVolume(volume, assignments[volume.identity.key]))
          .filter(
            ({ recorder, standing }) =>
              (query.recorder === undefined || recorder === query.recorder) &&
              (query.standing === undefined || standing === query.standing),
          );
        const { page, next } = VOLUMES.page(wanted, query);
        return { volumes: [...page], next };
      },
    );

    app.get(
      '/v1/volumes/:key',
      {
        schema: {
          operationId: 'getVolume',
          tags: ['volumes'],
          summary: 'One volume',
          params: VolumeKey,
          response: answersWith(200, VolumeAnswer),
        },
      },
      async ({ params: { key } }) => {
        const [volume, assignments] = await Promise.all([findVolume(store, key), store.assignments()]);
        return describeVolume(volume, assignments[key]);
      },
    );

    app.post(
      '/v1/volumes/:key/assign',
      {
        schema: {
          operationId: 'assignVolume',
          tags: ['volumes'],
          summary: 'Say which recorder a volume belongs to, and if wanted to which shoot its footage goes',
          params: VolumeKey,
          body: z.strictObject({ recorder: z.string().max(64), shoot: FolderName.optional() }),
          response: answersWith(202, VolumeAnswer),
        },
      },
      async ({ params: { key }, body: { recorder, shoot } }, reply) => {
        const volume = await findVolume(store, key);
        refuseUnknownRecorder(configuration, recorder);
        if (shoot !== undefined && (await store.shoot(shoot)) === null) {
          throw new ApiProblem(
            'invalid-body',
            `The service knows no shoot "${shoot}". Open it first, or leave it out.`,
            {
              errors: [{ detail: 'is not the id of a shoot', pointer: '#/shoot' }],
            },
          );
        }
        const assignment = { recorder, shootId: shoot ?? null };
        await store.assign(key, assignment);
        const name = volume.identity.label ?? key;
        const sentence = `Volume "${name}" belongs to recorder ${recorder}${shoot === undefined ? '' : `, for shoot ${shoot}`}.`;
        await store.publish([
          { type: 'volume.assigned', at: now(), subject: key, sentence, data: { recorder, shoot: shoot ?? null } },
        ]);
        return reply.code(202).send(describeVolume(volume, assignment));
      },
    );
  };
}

function refuseUnknownRecorder({ recorders }: ApiParts['configuration'], recorder: string): void {
  if (Object.hasOwn(recorders, recorder)) return;
  const known = Object.keys(recorders).toSorted().join(', ');
  const remedy = known === '' ? 'It has no recorders yet; add it there.' : `It has ${known}.`;
  throw new ApiProblem('invalid-body', `The configuration has no recorder "${recorder}". ${remedy}`, {
    errors: [
      {
        detail: `is none of the recorders of the configuration${known === '' ? '' : ` (${known})`}`,
        pointer: '#/recorder',
      },
    ],
  });
}
