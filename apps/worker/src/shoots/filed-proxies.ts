import type { Store } from '@quayside/job-queue';
import { PROXY_STEP } from '@quayside/pipeline';

/** Where the proxies that were made and kept lie below the shoot's folder at a destination, by clip id. */
export async function filedProxies(
  store: Store,
  shootId: string,
  destination: string,
): Promise<ReadonlyMap<string, string>> {
  const proxies = new Map<string, string>();
  for (const { id, step, state, subject, filed } of await store.guestRuns(shootId)) {
    if (step !== PROXY_STEP || state !== 'done' || filed === null) continue;
    if (filed.destination !== destination && !filed.alsoAt.includes(destination)) continue;
    const [file] = (await store.guestRun(id))?.files ?? [];
    if (file !== undefined) proxies.set(subject.id, `${filed.folder.slice(`${shootId}/`.length)}/${file.path}`);
  }
  return proxies;
}
