import type { ApiClient } from '@quayside/api-client';
import { QuaysideError } from '@quayside/shoot';

/** The id of the shoot that was opened last. @throws QuaysideError `NO_SHOOT` */
export async function newestShoot(service: ApiClient): Promise<string> {
  const { shoots } = await service.get('/v1/shoots');
  const [newest] = shoots;
  if (newest !== undefined) return newest.id;
  throw new QuaysideError({
    code: 'NO_SHOOT',
    sentence: 'There is no shoot yet. One opens by itself for the first roll that is taken in.',
    retry: 'never',
  });
}
