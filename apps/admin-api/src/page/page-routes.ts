import { existsSync } from 'node:fs';
import { join } from 'node:path';
import fastifyStatic from '@fastify/static';
import type { FastifyPluginAsync, FastifyReply } from 'fastify';
import { ApiProblem } from '../problems/api-problem.ts';
import { PAGE_HEADERS } from './page-headers.ts';

/**
 * The status page, from the folder of its built files. It tells nothing by itself and so needs no token. A folder that is not
 * filled yet is answered with what to do.
 */
export function pageRoutes(folder: string): FastifyPluginAsync {
  return async (app) => {
    await app.register(fastifyStatic, { root: folder, serve: false });
    app.addHook('onSend', async (_request, reply) => void reply.headers(PAGE_HEADERS));

    app.get('/', PUBLIC, async (_request, reply) => {
      if (!existsSync(join(folder, 'index.html'))) throw notMadeYet();
      // Its parts are named after their content, so this one file must always be the newest.
      reply.header('cache-control', 'no-cache');
      return sendFile(reply, 'index.html');
    });

    app.get<{ Params: { name: string } }>('/assets/:name', PUBLIC, async ({ params: { name } }, reply) => {
      if (!/^[\w-]+\.[\w-]+(?:\.[\w-]+)?$/.test(name) || !existsSync(join(folder, 'assets', name)))
        throw new ApiProblem('nothing-here', 'The page has no such part. Load the page again.');
      reply.header('cache-control', 'public, max-age=31536000, immutable');
      return sendFile(reply, `assets/${name}`);
    });
  };
}

const PUBLIC = { config: { isPublic: true }, schema: { hide: true } } as const;

function sendFile(reply: FastifyReply, path: string): FastifyReply {
  return reply.sendFile(path, { cacheControl: false });
}

function notMadeYet(): ApiProblem {
  return new ApiProblem(
    'nothing-here',
    'The status page is not made yet. It is made by `npm ci` and at the start of the service; load it again in a moment, or run `npm run build --workspace apps/board` and read what it says.',
  );
}
