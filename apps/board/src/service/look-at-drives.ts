import { HealthAnswer, RollAnswer, VolumeAnswer } from '@quayside/admin-api/page-answers';
import { checkAnswer } from '@quayside/api-client';
import { z } from 'zod';
import type { DriveLook } from '../picture/drive-look.ts';
import type { Moment } from '../picture/moment.ts';
import type { Service } from './call-service.ts';

const Volumes = z.object({ volumes: z.array(VolumeAnswer) });
const Rolls = z.object({ rolls: z.array(RollAnswer) });

/**
 * Asks for all that the verdicts rest on. `known` are rolls of an earlier look whose drives are away: looking for them reads
 * every roll there is, so it is done only now and then. Those of connected drives are always asked for anew.
 * Each answer is checked: of one that is not to the letter what the service of this page writes, no verdict is told.
 * @throws what the calls throw, and NoAnswerError `ANSWER_ODD`.
 */
export async function lookAtDrives(
  service: Service,
  known: readonly RollAnswer[] | null,
  begunAt: Moment,
): Promise<DriveLook> {
  const [health, volumes, listed] = await Promise.all([
    service.ask('get', '/v1/health'),
    service.get('/v1/volumes', { query: { connected: 'true' } }).then((answer) => checkAnswer(Volumes, answer)),
    known === null ? newestAndHeldRolls(service) : [],
  ]);
  const connected = volumes.volumes.filter(({ mountPath }) => mountPath !== null);
  const fresh = new Map(listed.map((roll) => [roll.id, roll]));
  const missing = connected.flatMap(({ rollId }) => (rollId === null || fresh.has(rollId) ? [] : [rollId]));
  const asked = await Promise.all(
    missing.map(async (id) => checkAnswer(RollAnswer, await service.get('/v1/rolls/{id}', { path: { id } }))),
  );
  const rolls = [...(known ?? []), ...listed, ...asked];
  return {
    begunAt,
    // The service's own clock, by which the time of a verdict is told.
    serviceMs: Date.parse(health.headers.get('date') ?? ''),
    health: checkAnswer(HealthAnswer, health.answer),
    connected,
    // The later one, which is the newer one, counts.
    rolls: [...new Map(rolls.map((roll) => [roll.id, roll])).values()],
  };
}

async function newestAndHeldRolls(service: Service): Promise<readonly RollAnswer[]> {
  const [newest, held] = await Promise.all([
    service.get('/v1/rolls', { query: { limit: 100 } }),
    service.get('/v1/rolls', { query: { verdict: 'hold', limit: 200 } }),
  ]);
  return [newest, held].flatMap((answer) => checkAnswer(Rolls, answer).rolls);
}
