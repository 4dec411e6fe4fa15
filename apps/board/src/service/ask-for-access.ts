import type { BoardState } from '../picture/board-state.ts';
import type { Store } from '../picture/store.ts';
import type { Service } from './call-service.ts';
import { isSignedOut } from './service-trouble.ts';

/**
 * Finds out by one request whether this browser must sign in; a service that wants no token lets it in at once. Whatever else
 * is wrong, such as a service that is away, is for the looks at the drives to tell.
 */
export async function askForAccess(service: Service, store: Store<BoardState>): Promise<void> {
  try {
    await service.get('/v1/health');
    store.change({ access: 'signed-in' });
  } catch (error) {
    store.change({ access: isSignedOut(error) ? 'signed-out' : 'signed-in' });
  }
}
