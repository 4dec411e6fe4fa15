import { FolderName, GuestRunRecord, GuestRunState } from '@quayside/shoot';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { ListedRun, runsWithWaits, runWithWaits } from '../answers/runs-with-waits.ts';
import type { ApiParts } from '../api-parts.ts';
import { ApiProblem } from '../problems/api-problem.ts';
import { listOf } from '../lists/list-of.ts';
import { answersWith } from './answers-with.ts';

const RUNS = listOf<ListedRun>({
  keys: {
    startedAt: (run) => run.startedAt ?? '',
    step: (run) => run.step,
    state: (run) => run.state,
    tookMs: (run) => run.tookMs,
  },
  tie: (run) => run.id,
  by: '-startedAt',
  limit: { usual: 200, most: 2000 },
});

const Query = z.object({
  ...RUNS.query,
  shoot: FolderName.optional(),
  step: z.string().max(200).optional().describe('The full name of a step, `<plugin>/<step>`.'),
  state: GuestRunState.optional().describe('`waiting` also gives runs that were made and wait to be made again.'),
});

/** Any JSON, which a schema that names itself would say in a way that the description's readers do not resolve. */
const RunAnswer = GuestRunRecord.extend({
  waits: ListedRun.shape.waits,
  output: z.unknown().describe('What the step gave, as JSON.'),
});

/** The runs of plugins' steps: the last one of each step on each clip, roll or shoot. */
export function runRoutes({ store }: ApiParts): FastifyPluginAsyncZod {
  return async (app) => {
    app.get(
      '/v1/runs',
      {
        config: { rows: 'runs' },
        schema: {
          operationId: 'listRuns',
          tags: ['plugins'],
          summary: "The last run of each plugin's step on each of its subjects, the newest first",
          querystring: Query,
          response: answersWith(200, z.object({ runs: z.array(ListedRun), next: z.string().nullable() })),
        },
      },
      async ({ query }) => {
        const shoots = query.shoot === undefined ? (await store.shoots()).map(({ id }) => id) : [query.shoot];
        const runs = (await Promise.all(shoots.map((id) => runsWithWaits(store, id))))
          .flat()
          .filter(
            (run) =>
              (query.step === undefined || run.step === query.step) &&
              (query.state === undefined ||
                run.state === query.state ||
                (query.state === 'waiting' && run.waits !== null)),
          );
        const { page, next } = RUNS.page(runs, query);
        return { runs: [...page], next };
      },
    );

    app.get(
      '/v1/runs/:id',
      {
        schema: {
          operationId: 'getRun',
          tags: ['plugins'],
          summary: "One run of a plugin's step with its output, its files and its log",
          params: z.object({ id: z.string().regex(/^[0-9a-f]{16}$/) }),
          response: answersWith(200, RunAnswer),
        },
      },
      async ({ params: { id } }) => {
        const run = await runWithWaits(store, id);
        if (run === null) throw new ApiProblem('run-unknown', `The service knows no run "${id}" of a plugin's step.`);
        return run;
      },
    );
  };
}
