import { PluginStanding, StepDescription } from '@quayside/shoot';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { ApiParts } from '../api-parts.ts';
import { answersWith } from './answers-with.ts';

const StepNode = z.object({
  name: z.string().describe('The full name: `<plugin>/<step>`, or that of a built-in step.'),
  plugin: z.string().nullable().describe('Null for a built-in step.'),
  scope: StepDescription.shape.scope,
  after: z.array(z.string()),
  description: z.string().nullable(),
});

/** The plugins that the configuration names, and the graph of all steps. */
export function pluginRoutes({ store }: ApiParts): FastifyPluginAsyncZod {
  return async (app) => {
    app.get(
      '/v1/plugins',
      {
        config: { rows: 'plugins' },
        schema: {
          operationId: 'listPlugins',
          tags: ['plugins'],
          summary: 'The plugins of the configuration; one that is left out has a `failure` that says why',
          response: answersWith(200, z.object({ plugins: z.array(PluginStanding) })),
        },
      },
      async () => ({ plugins: [...(await store.plugins())] }),
    );

    app.get(
      '/v1/steps',
      {
        config: { rows: 'steps' },
        schema: {
          operationId: 'listSteps',
          tags: ['plugins'],
          summary: 'The graph of steps, built-in ones and those of plugins in use: what each comes after',
          response: answersWith(200, z.object({ steps: z.array(StepNode) })),
        },
      },
      async () => {
        const builtIn = (await store.builtInSteps()).map((step) => ({ ...step, plugin: null, description: null }));
        const guests = (await store.plugins()).flatMap(({ plugin, failure }) =>
          plugin === null || failure !== null
            ? []
            : plugin.steps.map(({ name, scope, after, description }) => ({
                name: `${plugin.name}/${name}`,
                plugin: plugin.name,
                scope,
                after,
                description,
              })),
        );
        return { steps: [...builtIn, ...guests] };
      },
    );
  };
}
