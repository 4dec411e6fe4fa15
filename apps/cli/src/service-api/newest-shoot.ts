import { ShootAnswer } from '@quayside/admin-api';
import { QuaysideError } from '@quayside/shoot';
import { z } from 'zod';
import type { ServiceApi } from './call-api.ts';

/** The id of the shoot that was opened last. @throws QuaysideError `NO_SHOOT` */
export async function newestShoot(service: ServiceApi): Promise<string> {
  const { shoots } = await service.get('/v1/shoots', z.object({ shoots: z.array(ShootAnswer) }));
  const [newest] = shoots;
  if (newest !== undefined) return newest.id;
  throw new QuaysideError({
    code: 'NO_SHOOT',
    sentence: 'There is no shoot yet. One opens by itself for the first roll that is taken in.',
    retry: 'never',
  });
}
