import { HealthAnswer } from '@quayside/admin-api/page-answers';
import type { BoardState } from '../picture/board-state.ts';
import type { Store } from '../picture/store.ts';
import type { Service } from './call-service.ts';
import { ServiceTrouble } from './service-trouble.ts';

/**
 * Finds out by one request whether this browser must sign in; a service that wants no token lets it in at once. Whatever else
 * is wrong, such as a service that is away, is for the looks at the drives to tell.
 */
export async function askForAccess(service: Service, store: Store<BoardState>): Promise<void> {
  try {
    await service.ask('/v1/health', HealthAnswer, { also: [503] });
    store.change({ access: 'signed-in' });
  } catch (error) {
    const mustSignIn = error instanceof ServiceTrouble && error.kind === 'signed-out';
    store.change({ access: mustSignIn ? 'signed-out' : 'signed-in' });
  }
}
