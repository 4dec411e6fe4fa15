import { createHash } from 'node:crypto';
import type { Configuration } from '@quayside/configuration';
import { askForShoot, type RunQueue, type Store } from '@quayside/job-queue';
import { ProxyPolicy } from '@quayside/proxy-planning';

/** The policy of proxies that the configuration states. */
export function proxyPolicyOf({ proxies }: Pick<Configuration, 'proxies'>): ProxyPolicy {
  return ProxyPolicy.parse({ rules: proxies.rules, budgetBytes: proxies.budget ?? null });
}

/**
 * Lets all shoots know with which policy proxies are planned, and asks each for a new plan when it is another one than before.
 * Called again and again: a view that was lost has forgotten it.
 */
export async function announcePlanning(
  work: { readonly store: Store; readonly queue: RunQueue },
  configuration: Configuration,
): Promise<void> {
  if (!(await work.store.notePlanning(planningOf(configuration)))) return;
  for (const { id } of await work.store.shoots()) await askForShoot(work, id);
}

/** Equal when and only when plans would be made in the same way; null when none are wanted. */
function planningOf(configuration: Configuration): string | null {
  if (!configuration.proxies.plan) return null;
  const { destination = null } = configuration.proxies;
  const text = JSON.stringify([PLANNING_VERSION, proxyPolicyOf(configuration), destination]);
  return createHash('sha256').update(text).digest('hex').slice(0, 16);
}

/** Raised when the same policy gives other plans than before. */
const PLANNING_VERSION = 1;
