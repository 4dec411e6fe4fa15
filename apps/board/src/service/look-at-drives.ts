import { HealthAnswer, RollAnswer, VolumeAnswer } from '@quayside/admin-api/page-answers';
import { z } from 'zod';
import type { DriveLook } from '../picture/drive-look.ts';
import type { Moment } from '../picture/moment.ts';
import type { Service } from './call-service.ts';

const Volumes = z.object({ volumes: z.array(VolumeAnswer) });
const Rolls = z.object({ rolls: z.array(RollAnswer) });

/**
 * Asks for all that the verdicts rest on. `known` are rolls of an earlier look whose drives are away: looking for them reads
 * every roll there is, so it is done only now and then. Those of connected drives are always asked for anew.
 * @throws ServiceTrouble
 */
export async function lookAtDrives(
  service: Service,
  known: readonly RollAnswer[] | null,
  begunAt: Moment,
): Promise<DriveLook> {
  const [health, volumes, listed] = await Promise.all([
    // Without Redis the service is not well, and says so under 503.
    service.ask('/v1/health', HealthAnswer, { also: [503] }),
    service.ask('/v1/volumes', Volumes),
    known === null ? newestAndHeldRolls(service) : [],
  ]);
  const connected = volumes.body.volumes.filter(({ mountPath }) => mountPath !== null);
  const fresh = new Map(listed.map((roll) => [roll.id, roll]));
  const missing = connected.flatMap(({ rollId }) => (rollId === null || fresh.has(rollId) ? [] : [rollId]));
  const asked = await Promise.all(missing.map(async (id) => (await service.ask(pathOf(id), RollAnswer)).body));
  const rolls = [...(known ?? []), ...listed, ...asked];
  return {
    begunAt,
    serviceMs: health.serviceMs,
    health: health.body,
    connected,
    // The later one, which is the newer one, counts.
    rolls: [...new Map(rolls.map((roll) => [roll.id, roll])).values()],
  };
}

function pathOf(rollId: string): string {
  return `/v1/rolls/${encodeURIComponent(rollId)}`;
}

async function newestAndHeldRolls(service: Service): Promise<readonly RollAnswer[]> {
  const [newest, held] = await Promise.all([
    service.ask('/v1/rolls?limit=100', Rolls),
    service.ask('/v1/rolls?verdict=hold&limit=200', Rolls),
  ]);
  return [...newest.body.rolls, ...held.body.rolls];
}
