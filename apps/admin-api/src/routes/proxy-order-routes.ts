import { askForShoot } from '@quayside/job-queue';
import { PROXY_STEP } from '@quayside/pipeline';
import { type PlanOnRecord, PlanStanding, type PlanWord, standingOf } from '@quayside/proxy-planning';
import { FolderName, Instant } from '@quayside/shoot';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { ApiParts } from '../api-parts.ts';
import { operatorOf } from '../audit/note-changes.ts';
import { ApiProblem } from '../problems/api-problem.ts';
import { answersWith } from './answers-with.ts';
import { findShoot } from './find-known.ts';
import { isCurrent } from './proxy-routes.ts';

const params = z.object({ id: FolderName });
const Note = z.string().trim().max(2000).default('');
const Clips = z
  .strictObject({
    clips: z.array(z.string().max(4096)).min(1).max(1000).optional().describe('Only these clips; all without it.'),
  })
  .nullish();
const Ordered = z.object({ sentence: z.string(), runs: z.array(z.string()) });

/** What people want of a shoot's proxies: the plan approved, held or made anew, proxies made that were not, or stopped. */
export function proxyOrderRoutes(parts: ApiParts): FastifyPluginAsyncZod {
  const { store, queue, configuration, now } = parts;
  const isApprovalNeeded = configuration.proxies.approval === 'required';

  /** Keeps what somebody says of the plan; the guests' process hears of it by the event. */
  const say = async (
    { id, planned }: { readonly id: string; readonly planned: PlanOnRecord },
    said: Pick<PlanWord, 'word' | 'by' | 'note'>,
  ): Promise<PlanStanding> => {
    const word: PlanWord = { ...said, at: now(), plan: planned.plan };
    await store.savePlanWord(id, word);
    const does = said.word === 'approved' ? 'approves' : 'holds';
    const sentence = `${said.by} ${does} the plan of proxies of shoot ${id}${said.note === '' ? '.' : `: ${said.note}`}`;
    await store.publish([{ type: `shoot.${said.word}`, at: word.at, subject: id, sentence }]);
    return standingOf(planned.plan, word, isApprovalNeeded);
  };
  const planOf = async (id: string): Promise<PlanOnRecord> => {
    await findShoot(store, id);
    const planned = await store.proxyPlan(id);
    if (planned !== null) return planned;
    throw new ApiProblem('plan-not-there', `Shoot "${id}" has no plan of proxies yet, or none is wanted.`);
  };
  const runsOf = async (
    id: string,
    { clips, states }: { readonly clips: readonly string[] | undefined; readonly states: readonly string[] },
  ): Promise<readonly string[]> =>
    (await store.guestRuns(id))
      .filter(({ step, state }) => step === PROXY_STEP && states.includes(state))
      .filter(({ subject }) => clips === undefined || clips.includes(subject.id))
      .map((run) => run.id);

  return async (app) => {
    app.post(
      '/v1/shoots/:id/proxies/approve',
      {
        schema: {
          operationId: 'approveProxyPlan',
          tags: ['shoots'],
          summary: 'Approve the plan of proxies: they are made, where they waited for it or were held',
          params,
          body: z
            .strictObject({
              plannedAt: Instant.optional().describe('The plan that was looked at; refused when there is a newer one.'),
              note: Note,
            })
            .nullish(),
          response: answersWith(200, PlanStanding),
        },
      },
      async ({ params: { id }, body, headers }) => {
        const { plannedAt, note = '' } = body ?? {};
        const planned = await planOf(id);
        if (!(await isCurrent(store, id)) || (plannedAt !== undefined && plannedAt !== planned.plannedAt))
          throw new ApiProblem('plan-moved-on', `Shoot "${id}" has a newer plan of proxies, or is being planned anew.`);
        return say({ id, planned }, { word: 'approved', by: operatorOf({ headers }), note });
      },
    );

    app.post(
      '/v1/shoots/:id/proxies/render',
      {
        schema: {
          operationId: 'renderProxies',
          tags: ['shoots'],
          summary: 'Make the planned proxies that failed or were stopped; the others are made by themselves',
          params,
          body: Clips,
          response: answersWith(202, Ordered),
        },
      },
      async ({ params: { id }, body }, reply) => {
        const { plan } = await planOf(id);
        const standing = standingOf(plan, await store.planWord(id), isApprovalNeeded);
        if (standing.state === 'held' || standing.state === 'asked')
          throw new ApiProblem('plan-not-approved', `No proxy of shoot "${id}" is made before its plan is approved.`);
        const planned = new Set(plan.clips.flatMap((clip) => (clip.state === 'planned' ? [clip.clipId] : [])));
        const unplanned = (body?.clips ?? []).filter((clip) => !planned.has(clip));
        if (unplanned.length > 0)
          throw new ApiProblem('proxy-not-planned', `The plan has no proxy of ${unplanned.join(', ')}.`);
        const runs = await runsOf(id, { clips: body?.clips, states: ['failed', 'cancelled'] });
        for (const run of runs) await store.orderGuestRun(run, 'retry');
        const sentence = `${runs.length} of ${body?.clips?.length ?? planned.size} are made again; the others are made, under way, or next.`;
        return reply.code(202).send({ sentence, runs: [...runs] });
      },
    );

    app.post(
      '/v1/shoots/:id/proxies/plan',
      {
        schema: {
          operationId: 'replanProxies',
          tags: ['shoots'],
          summary: 'Plan the proxies anew, with the room that there is now and what was measured since',
          params,
          body: z.strictObject({}).nullish(),
          response: answersWith(202, Ordered),
        },
      },
      async ({ params: { id } }, reply) => {
        await findShoot(store, id);
        if ((await store.shootProgress(id)).planning === null)
          throw new ApiProblem('plan-not-there', 'No proxies are planned (`proxies.plan` in the configuration).');
        await store.forgetPlanned(id);
        await askForShoot({ store, queue }, id);
        return reply.code(202).send({ sentence: `The proxies of shoot ${id} are planned anew.`, runs: [] });
      },
    );

    app.post(
      '/v1/shoots/:id/proxies/cancel',
      {
        schema: {
          operationId: 'cancelProxies',
          tags: ['shoots'],
          summary: 'Stop the proxies that are being made, and hold the plan unless clips are named',
          params,
          body: Clips,
          response: answersWith(202, Ordered),
        },
      },
      async ({ params: { id }, body, headers }, reply) => {
        const planned = await planOf(id);
        const clips = body?.clips;
        if (clips === undefined)
          await say({ id, planned }, { word: 'held', by: operatorOf({ headers }), note: 'Stopped.' });
        const runs = await runsOf(id, { clips, states: ['running'] });
        for (const run of runs) await store.orderGuestRun(run, 'cancel');
        const sentence =
          clips === undefined
            ? `${runs.length} are stopped, and no other is begun before the plan is approved again.`
            : `${runs.length} are stopped.`;
        return reply.code(202).send({ sentence, runs: [...runs] });
      },
    );

    app.post(
      '/v1/shoots/:id/proxies/hold',
      {
        schema: {
          operationId: 'holdProxyPlan',
          tags: ['shoots'],
          summary: 'Hold the plan of proxies: none is begun until it is approved; those under way are finished',
          params,
          body: z.strictObject({ note: Note }).nullish(),
          response: answersWith(200, PlanStanding),
        },
      },
      async ({ params: { id }, body, headers }) => {
        const planned = await planOf(id);
        return say({ id, planned }, { word: 'held', by: operatorOf({ headers }), note: body?.note ?? '' });
      },
    );
  };
}
