import { shownConfiguration } from '@quayside/configuration';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { ApiParts } from '../api-parts.ts';
import { answersWith } from './answers-with.ts';

/** What the service was started with. */
export function configurationRoutes({ configuration }: ApiParts): FastifyPluginAsyncZod {
  return async (app) => {
    app.get(
      '/v1/configuration',
      {
        config: { scope: 'admin' },
        schema: {
          operationId: 'getConfiguration',
          tags: ['configuration'],
          summary: 'The configuration in force, defaults filled in; secrets, and what may be one, are shown as `***`',
          response: answersWith(
            200,
            z.object({
              configuration: z
                .record(z.string(), z.unknown())
                .describe('By the keys of the configuration file, which `quayside config --schema` describes.'),
            }),
          ),
        },
      },
      async () => ({ configuration: shownConfiguration(configuration) }),
    );
  };
}
