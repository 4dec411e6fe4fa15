import { applyRollEvent, askForShoot } from '@quayside/job-queue';
import { findFailedRun, RETRY_STEPS, type RetryWish } from '@quayside/pipeline';
import { FolderName, type Roll, ShootStep } from '@quayside/shoot';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { ApiParts } from '../api-parts.ts';
import { ApiProblem } from '../problems/api-problem.ts';
import { answersWith } from './answers-with.ts';
import { findRoll, findShoot } from './find-known.ts';
import { isAnythingPlanned, plannedRetry, RetryPlan } from './retry-plan.ts';
import { RetryManyPlan, sumUpRetry } from './retry-many-plan.ts';
import { rollOfRun } from './roll-of-run.ts';
import { retryGuestRun } from './run-order-routes.ts';

const Destination = z.string().max(64).describe('Only what failed at this destination.').optional();
const RollFilter = z.strictObject({
  destination: Destination,
  step: z.enum(RETRY_STEPS).describe('Only what failed in this step of the pipeline.').optional(),
});
const ShootFilter = z.strictObject({
  destination: Destination,
  step: z
    .enum([...RETRY_STEPS, ...ShootStep.options])
    .describe('Only what failed in this step.')
    .optional(),
});
type Filter = z.output<typeof ShootFilter>;

/** Taking up again what failed: of a roll, of all rolls of a shoot, or in one run. What is asked for twice is done once. */
export function retryRoutes(parts: ApiParts): FastifyPluginAsyncZod {
  const { store } = parts;
  return async (app) => {
    app.post(
      '/v1/rolls/:id/retry',
      {
        schema: {
          operationId: 'retryRoll',
          tags: ['rolls'],
          summary: 'Take up again what failed of a roll: all of it, or at one destination, or in one step',
          description:
            'A roll that holds though nothing failed (a copy is gone, a manifest was altered) is gone through again when no step is named.',
          params: z.object({ id: FolderName }),
          body: RollFilter.nullish(),
          response: answersWith(202, RetryPlan),
        },
      },
      async ({ params: { id }, body }, reply) => {
        const roll = await findRoll(store, id);
        const { destination = null, step } = body ?? {};
        refuseUnknownDestination(`Roll "${id}"`, [roll], destination);
        return reply.code(202).send(await retryRoll(parts, roll, { destination, ...(step && { step }) }));
      },
    );

    app.post(
      '/v1/shoots/:id/retry',
      {
        schema: {
          operationId: 'retryShoot',
          tags: ['shoots'],
          summary: 'Take up again what failed of a shoot: all of it, or at one destination, or in one step',
          description:
            'Rolls that only wait for their drive are left waiting. Steps over the whole shoot are made again too.',
          params: z.object({ id: FolderName }),
          body: ShootFilter.nullish(),
          response: answersWith(202, RetryManyPlan),
        },
      },
      async ({ params: { id }, body }, reply) => {
        await findShoot(store, id);
        const rolls = await store.rollsOfShoot(id);
        const filter = body ?? {};
        refuseUnknownDestination(`Shoot "${id}"`, rolls, filter.destination ?? null);
        const plans: RetryPlan[] = [];
        for (const roll of rolls)
          for (const wish of wishesOf(roll, filter)) plans.push(await retryRoll(parts, roll, wish));
        const shootSteps = await retryShootSteps(parts, id, shootStepsIn(filter));
        const asked = { id, what: `shoot "${id}"`, rollCount: rolls.length };
        return reply.code(202).send(sumUpRetry(asked, { rolls: plans.filter(isAnythingPlanned), shootSteps }));
      },
    );

    app.post(
      '/v1/runs/:id/retry',
      {
        schema: {
          operationId: 'retryRun',
          tags: ['runs'],
          summary: 'Take up again what failed in one run',
          description:
            'The id stands in the event `run.failed`, in the log, and with the failures of a roll. Runs are not kept: what failed in one is read from the state of its roll or shoot.',
          params: z.object({ id: z.string().max(256) }),
          body: z.strictObject({}).nullish(),
          response: answersWith(202, RetryManyPlan),
        },
      },
      async ({ params: { id } }, reply) => reply.code(202).send(await retryRun(parts, id)),
    );
  };
}

async function retryRoll(parts: ApiParts, before: Roll, wish: RetryWish): Promise<RetryPlan> {
  const event = { type: 'retryRequested', ...wish } as const;
  return plannedRetry(before, await applyRollEvent(parts, before.id, { event, now: parts.now() }));
}

/** None where the filter is about the whole shoot, or about a destination that the roll does not have. */
function wishesOf(roll: Roll, filter: Filter): readonly RetryWish[] {
  const { step } = filter;
  const destination = filter.destination ?? null;
  if (destination !== null && !Object.hasOwn(roll.destinations, destination)) return [];
  const rollStep = RETRY_STEPS.find((one) => one === step);
  if (step !== undefined && rollStep === undefined) return [];
  return [{ destination, isOneOfMany: true, ...(rollStep && { step: rollStep }) }];
}

/** They are at no destination. */
function shootStepsIn({ destination, step }: Filter): readonly ShootStep[] {
  if (destination !== undefined) return [];
  return ShootStep.options.filter((one) => step === undefined || step === one);
}

async function retryShootSteps(parts: ApiParts, shootId: string, steps: readonly ShootStep[]): Promise<ShootStep[]> {
  const retried: ShootStep[] = [];
  for (const step of steps) if (await parts.store.forgetShootFailure(shootId, step)) retried.push(step);
  if (retried.length > 0) await askForShoot(parts, shootId);
  return retried;
}

async function retryRun(parts: ApiParts, runId: string): Promise<RetryManyPlan> {
  const ofGuest = await retryGuestRun(parts, runId);
  if (ofGuest !== null) return ofGuest;
  const asked = { id: runId, what: `run "${runId}"`, rollCount: 1 };
  for (const step of ShootStep.options) {
    const shoot = runId.startsWith(`${step}-`) ? await parts.store.shoot(runId.slice(step.length + 1)) : null;
    if (shoot === null) continue;
    const shootSteps = await retryShootSteps(parts, shoot.id, [step]);
    if (shootSteps.length === 0) throw notFailed(runId);
    return sumUpRetry(asked, { rolls: [], shootSteps });
  }
  const roll = await rollOfRun(parts.store, runId);
  const run = roll === null ? null : findFailedRun(roll, runId);
  if (roll === null || run === null || run.standing === 'other') throw unknownRun(runId);
  if (run.standing === 'wanted')
    throw new ApiProblem(
      'run-under-way',
      `Run "${runId}" waits for its turn or is being made; it has not failed. Wait for what comes of it.`,
    );
  if (run.standing !== 'failed') throw notFailed(runId);
  const plan = await retryRoll(parts, roll, run.wish);
  return { ...sumUpRetry(asked, { rolls: [plan], shootSteps: [] }), sentence: plan.sentence };
}

function unknownRun(runId: string): ApiProblem {
  return new ApiProblem(
    'run-unknown',
    `There is no run "${runId}" of a known roll or shoot that could be tried again. The failures of a roll name those that can.`,
  );
}

function notFailed(runId: string): ApiProblem {
  return new ApiProblem(
    'run-not-failed',
    `Nothing of run "${runId}" has failed, or it was tried again since, so there is nothing to try again.`,
  );
}

function refuseUnknownDestination(whose: string, rolls: readonly Roll[], destination: string | null): void {
  if (destination === null || rolls.some(({ destinations }) => Object.hasOwn(destinations, destination))) return;
  const known = [...new Set(rolls.flatMap(({ destinations }) => Object.keys(destinations)))].toSorted().join(', ');
  throw new ApiProblem('invalid-body', `${whose} has no destination "${destination}"; it has ${known || 'none'}.`, {
    errors: [{ detail: `is none of ${known || 'no destinations'}`, pointer: '#/destination' }],
  });
}
