import { type FileHandle, open, readdir, stat } from 'node:fs/promises';
import { extname, join } from 'node:path';
import { FolderName } from '@quayside/shoot';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { ApiParts } from '../api-parts.ts';
import { ApiProblem } from '../problems/api-problem.ts';
import { answersWith } from './answers-with.ts';
import { findShoot } from './find-known.ts';

const RecordFile = z.object({ name: z.string(), sizeInBytes: z.int().nonnegative(), destination: z.string() });

/** Our own names only: letters, digits and hyphens, in the folder of records or one below it. */
const RecordName = z.string().regex(/^[a-z0-9][a-z0-9-]*\.(?:otio|json|csv|html)$/);
const RecordFolder = z.string().regex(/^[a-z0-9][a-z0-9-]*$/);
const InRecords = z.object({ id: FolderName, name: RecordName });
const RECORD_PATHS = [
  ['getRecord', '/v1/shoots/:id/records/:name', InRecords],
  ['getRecordInFolder', '/v1/shoots/:id/records/:folder/:name', InRecords.extend({ folder: RecordFolder })],
] as const;
const FILE = {
  description: 'The file as it lies at the destination.',
  content: Object.fromEntries(['application/json', 'text/csv', 'text/html'].map((type) => [type, { schema: z.any() }])),
};

/** The files of a shoot's records, as they lie beside the footage. */
export function recordRoutes({ store, configuration }: ApiParts): FastifyPluginAsyncZod {
  const foldersOf = (shootId: string): readonly { readonly destination: string; readonly folder: string }[] =>
    configuration.destinations.map(({ name, path }) => ({ destination: name, folder: join(path, shootId, 'records') }));
  return async (app) => {
    app.get(
      '/v1/shoots/:id/records',
      {
        config: { rows: 'records' },
        schema: {
          operationId: 'listRecords',
          tags: ['shoots'],
          summary: 'The timelines, tables and reports of a shoot, at each destination',
          params: z.object({ id: FolderName }),
          response: answersWith(200, z.object({ records: z.array(RecordFile) })),
        },
      },
      async ({ params: { id } }) => {
        await findShoot(store, id);
        const records: z.output<typeof RecordFile>[] = [];
        for (const { destination, folder } of foldersOf(id)) {
          for (const file of await filesIn(folder)) records.push({ ...file, destination });
        }
        return { records };
      },
    );

    for (const [operationId, url, params] of RECORD_PATHS) {
      app.get(
        url,
        {
          schema: {
            operationId,
            tags: ['shoots'],
            summary: 'One file of the records: OpenTimelineIO, JSON, CSV or the report as a page',
            params,
            querystring: z.object({ destination: FolderName.optional() }),
            response: { ...answersWith(200, z.any()), 200: FILE },
          },
        },
        async ({ params: where, query: { destination } }, reply) => {
          const { id, name } = where;
          await findShoot(store, id);
          const path = 'folder' in where ? `${where.folder}/${name}` : name;
          const file = await openFirst(
            foldersOf(id).filter((place) => destination === undefined || place.destination === destination),
            path,
          );
          if (file === null)
            throw new ApiProblem(
              'record-unknown',
              `Shoot "${id}" has no record "${path}" at a destination that is there. It is written once something of the shoot is sealed.`,
            );
          return reply
            .type(TYPES[extname(name)] ?? 'application/octet-stream')
            .header('content-disposition', `${name.endsWith('.html') ? 'inline' : 'attachment'}; filename="${name}"`)
            .header('content-security-policy', "default-src 'none'; style-src 'unsafe-inline'; img-src data:; sandbox")
            .send(file.createReadStream());
        },
      );
    }
  };
}

const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.csv': 'text/csv; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  // The standard names no media type of its own; its files are JSON.
  '.otio': 'application/json; charset=utf-8',
};

async function filesIn(folder: string): Promise<readonly { name: string; sizeInBytes: number }[]> {
  const names = await readdir(folder, { recursive: true }).catch(() => []);
  const files = [];
  for (const name of names.toSorted(byText)) {
    if (!isRecord(name)) continue;
    const found = await stat(join(folder, name)).catch(() => null);
    if (found?.isFile() === true) files.push({ name, sizeInBytes: found.size });
  }
  return files;
}

function isRecord(path: string): boolean {
  const parts = path.split('/');
  const name = parts.pop();
  return (
    RecordName.safeParse(name).success &&
    parts.length <= 1 &&
    parts.every((part) => RecordFolder.safeParse(part).success)
  );
}

/** The file at the first destination that has it. */
async function openFirst(places: readonly { readonly folder: string }[], path: string): Promise<FileHandle | null> {
  for (const { folder } of places) {
    const file = await open(join(folder, path)).catch(() => null);
    if (file !== null) return file;
  }
  return null;
}

function byText(one: string, other: string): number {
  return one < other ? -1 : 1;
}
