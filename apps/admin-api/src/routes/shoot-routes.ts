import { askForShoot } from '@quayside/job-queue';
import { FolderName, type Roll, type Shoot } from '@quayside/shoot';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { ShootAnswer, ShootDetail } from '../answers/shoot-answer.ts';
import type { ApiParts } from '../api-parts.ts';
import { ApiProblem } from '../problems/api-problem.ts';
import { listOf } from '../lists/list-of.ts';
import { answersWith } from './answers-with.ts';
import { findShoot } from './find-known.ts';
import { describeRolls, ROLLS } from './roll-routes.ts';
import { oneAtATime } from './one-at-a-time.ts';
import { shootIdOf } from './shoot-id-of.ts';

const SHOOTS = listOf<ShootAnswer>({
  keys: {
    openedAt: (shoot) => shoot.openedAt,
    closedAt: (shoot) => shoot.closedAt,
    id: (shoot) => shoot.id,
    name: (shoot) => shoot.name,
    rollCount: (shoot) => shoot.rollCount,
    holdCount: (shoot) => shoot.holdCount,
  },
  tie: (shoot) => shoot.id,
  by: '-openedAt',
  limit: { most: 1000 },
});

const ShootName = z.string().trim().min(1).max(200);
const ShootId = z.object({ id: FolderName });

/** Shoots: to look at, to open by name, to rename, and to close. */
export function shootRoutes({ store, queue, now }: ApiParts): FastifyPluginAsyncZod {
  const inTurn = oneAtATime();
  return async (app) => {
    app.get(
      '/v1/shoots',
      {
        config: { rows: 'shoots' },
        schema: {
          operationId: 'listShoots',
          tags: ['shoots'],
          summary: 'The shoots, newest first',
          querystring: z.object({
            isOpen: z.enum(['true', 'false']).optional().describe('Only those that are open, or that are closed.'),
            ...SHOOTS.query,
          }),
          response: answersWith(200, z.object({ shoots: z.array(ShootAnswer), next: z.string().nullable() })),
        },
      },
      async ({ query }) => {
        const [shoots, rolls] = await Promise.all([store.shoots(), store.rolls()]);
        const byShoot = Map.groupBy(rolls, (roll) => roll.shootId);
        const wanted = shoots
          .filter(({ closedAt }) => query.isOpen === undefined || (query.isOpen === 'true') === (closedAt === null))
          .map((shoot) => withCounts(shoot, byShoot.get(shoot.id) ?? []));
        const { page, next } = SHOOTS.page(wanted, query);
        return { shoots: [...page], next };
      },
    );

    app.get(
      '/v1/shoots/:id',
      {
        schema: {
          operationId: 'getShoot',
          tags: ['shoots'],
          summary: 'One shoot and its rolls with their verdicts',
          params: ShootId,
          response: answersWith(200, ShootDetail),
        },
      },
      async ({ params: { id } }) => {
        const [shoot, all] = await Promise.all([findShoot(store, id), store.rollsOfShoot(id)]);
        const rolls = ROLLS.page(all, { sort: '-openedAt' }).page;
        return {
          ...withCounts(shoot, rolls),
          rolls: await describeRolls(store, rolls),
        };
      },
    );

    app.post(
      '/v1/shoots',
      {
        schema: {
          operationId: 'openShoot',
          tags: ['shoots'],
          summary: 'Open a shoot by name; rolls that arrive go to it until it is closed',
          body: z.strictObject({ name: ShootName }),
          response: answersWith(201, ShootAnswer),
        },
      },
      async ({ body: { name } }, reply) => {
        // In turn, so that two requests for one name cannot both find it free.
        const shoot = await inTurn(async () => {
          const id = shootIdOf(name);
          const known = await store.shoot(id);
          if (known !== null)
            throw new ApiProblem(
              'shoot-exists',
              `Shoot "${id}" ("${known.name}") is there already. Use it, or choose another name.`,
            );
          const opened: Shoot = { id, name, openedAt: now(), closedAt: null, named: true };
          await store.saveShoot(opened);
          return opened;
        });
        await store.publish([
          {
            type: 'shoot.opened',
            at: shoot.openedAt,
            subject: shoot.id,
            sentence: `Shoot "${shoot.name}" is open; rolls that arrive go to it.`,
          },
        ]);
        return reply.code(201).header('location', `/v1/shoots/${shoot.id}`).send(withCounts(shoot, []));
      },
    );

    app.post(
      '/v1/shoots/:id/rename',
      {
        schema: {
          operationId: 'renameShoot',
          tags: ['shoots'],
          summary: 'Give a shoot another name; its id and its folders stay',
          params: ShootId,
          body: z.strictObject({ name: ShootName }),
          response: answersWith(200, ShootAnswer),
        },
      },
      async ({ params: { id }, body: { name } }) => {
        const renamed = await inTurn(async () => {
          const shoot = await findShoot(store, id);
          if (shoot.name === name) return shoot;
          const changed: Shoot = { ...shoot, name };
          await store.saveShoot(changed);
          await store.noteShootRenamed(id);
          const sentence = `Shoot "${shoot.name}" is called "${name}" from now on.`;
          await store.publish([{ type: 'shoot.renamed', at: now(), subject: id, sentence }]);
          return changed;
        });
        // The records beside the footage tell the name too.
        await askForShoot({ store, queue }, id);
        return withCounts(renamed, await store.rollsOfShoot(id));
      },
    );

    app.post(
      '/v1/shoots/:id/close',
      {
        schema: {
          operationId: 'closeShoot',
          tags: ['shoots'],
          summary: 'Close a shoot: no further roll goes to it by itself',
          params: ShootId,
          body: z.strictObject({}).nullish(),
          response: answersWith(200, ShootAnswer),
        },
      },
      async ({ params: { id } }) => {
        const closed = await inTurn(async () => {
          const shoot = await findShoot(store, id);
          if (shoot.closedAt !== null) return shoot;
          const changed: Shoot = { ...shoot, closedAt: now() };
          await store.saveShoot(changed);
          const sentence = `Shoot "${shoot.name}" is closed; no further roll goes to it by itself.`;
          await store.publish([{ type: 'shoot.closed', at: now(), subject: id, sentence }]);
          return changed;
        });
        return withCounts(closed, await store.rollsOfShoot(id));
      },
    );
  };
}

function withCounts(shoot: Shoot, rolls: readonly Roll[]): ShootAnswer {
  const clearCount = rolls.filter((roll) => roll.clearance.verdict === 'clear').length;
  return { ...shoot, rollCount: rolls.length, clearCount, holdCount: rolls.length - clearCount };
}
