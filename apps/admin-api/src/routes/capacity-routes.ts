import { Capacity, planCapacity, readRecordingFormat } from '@quayside/proxy-planning';
import { FolderName, QuaysideError } from '@quayside/shoot';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { ApiParts } from '../api-parts.ts';
import { driveRoom } from '../capacity/drive-room.ts';
import { measuredIngest } from '../capacity/measured-ingest.ts';
import { roomAtDestinations } from '../capacity/room-at-destinations.ts';
import { ApiProblem } from '../problems/api-problem.ts';
import { answersWith } from './answers-with.ts';

const MAX_RECORDERS = 64;
const Names = z.array(FolderName).min(1).max(MAX_RECORDERS);

const Query = z.object({
  recorders: z
    .string()
    .max(2000)
    .optional()
    .describe(
      'How many record, or which: `4`, or `wheel,hands`. Default: every camera and program of the configuration.',
    ),
  format: z.string().max(100).describe('What they write: CODEC/SIZE/RATE or CODEC/SIZE/RATE/CHANNELS.'),
  hours: z.coerce.number().min(0.01).max(1000),
  drive: z.coerce
    .number()
    .int()
    .min(1)
    .max(Number.MAX_SAFE_INTEGER)
    .optional()
    .describe(
      'Bytes of an empty drive in each recorder. Default: what is free on the drives that are connected, as last listed.',
    ),
});

/** Whether a shoot fits on its drives and at the destinations, and how long it takes to bring it in. */
export function capacityRoutes(parts: ApiParts): FastifyPluginAsyncZod {
  return async (app) => {
    app.get(
      '/v1/capacity',
      {
        schema: {
          operationId: 'planCapacity',
          tags: ['shoots'],
          summary:
            'What a shoot takes, whether it fits on drives and destinations, and how long it takes to bring it in',
          querystring: Query,
          response: answersWith(200, Capacity),
        },
      },
      async ({ query }) => {
        const format = formatOf(query.format);
        const room = await driveRoom(parts.store);
        return planCapacity({
          recorders: recordersOf(parts, query.recorders).map((name) => ({
            name,
            format,
            driveFreeBytes: query.drive ?? room.get(name) ?? null,
          })),
          seconds: query.hours * 3600,
          destinations: await roomAtDestinations(parts),
          measuredIngest: await measuredIngest(parts.store),
        });
      },
    );
  };
}

function formatOf(text: string): ReturnType<typeof readRecordingFormat> {
  try {
    return readRecordingFormat(text);
  } catch (error) {
    if (error instanceof QuaysideError) throw new ApiProblem('bad-request', error.message, { cause: error });
    throw error;
  }
}

function recordersOf({ configuration }: ApiParts, text: string | undefined): readonly string[] {
  const pictures = Object.entries(configuration.recorders)
    .filter(([, { role }]) => role !== 'sound')
    .map(([name]) => name);
  if (text === undefined && pictures.length > 0) return pictures;
  if (text !== undefined && /^\d{1,2}$/.test(text) && Number(text) >= 1 && Number(text) <= MAX_RECORDERS)
    return Array.from({ length: Number(text) }, (_, index) => pictures[index] ?? `recorder-${index + 1}`);
  const names = Names.safeParse(text?.split(',').map((name) => name.trim()));
  if (names.success) return names.data;
  throw new ApiProblem(
    'bad-request',
    `"recorders" must be a number from 1 to ${MAX_RECORDERS}, or names such as wheel,hands.`,
  );
}
