import type { Store } from '@quayside/job-queue';
import type { Roll, Shoot, Volume } from '@quayside/shoot';
import { ApiProblem } from '../problems/api-problem.ts';

/** @throws ApiProblem `roll-unknown` */
export async function findRoll(store: Store, id: string): Promise<Roll> {
  const roll = await store.roll(id);
  if (roll === null) throw new ApiProblem('roll-unknown', `The service knows no roll "${id}".`);
  return roll;
}

/** @throws ApiProblem `shoot-unknown` */
export async function findShoot(store: Store, id: string): Promise<Shoot> {
  const shoot = await store.shoot(id);
  if (shoot === null)
    throw new ApiProblem(
      'shoot-unknown',
      `The service knows no shoot "${id}". Open it first, or use the id of one that is there.`,
    );
  return shoot;
}

/** @throws ApiProblem `volume-unknown` */
export async function findVolume(store: Store, key: string): Promise<Volume> {
  const volume = await store.volume(key);
  if (volume === null) throw new ApiProblem('volume-unknown', `The service has seen no volume "${key}".`);
  return volume;
}
