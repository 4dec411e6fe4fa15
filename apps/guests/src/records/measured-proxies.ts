import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Store } from '@quayside/job-queue';
import { writeDurably } from '@quayside/media-files';
import { PROXY_STEP } from '@quayside/pipeline';
import { keepMeasured, MEASURED_PROXIES, MeasuredProxies, RenderedProxy } from '@quayside/proxy-planning';
import type { GuestRunSummary } from '@quayside/shoot';

/**
 * Keeps in the data folder what making a proxy took on this machine, for later plans. A run that was held up, or whose proxy
 * was not kept, teaches nothing.
 */
export async function learnFromRun(store: Store, data: string, run: GuestRunSummary): Promise<void> {
  if (run.step !== PROXY_STEP || run.state !== 'done' || run.heldUpMs !== undefined) return;
  const made = RenderedProxy.safeParse((await store.guestRun(run.id))?.output).data;
  if (made === undefined || made.file === null) return;
  const path = join(data, MEASURED_PROXIES);
  const record: MeasuredProxies = { format: 1, proxies: [...keepMeasured(await readMeasured(path), made.measured)] };
  await writeDurably(path, `${JSON.stringify(record)}\n`);
}

/** What cannot be read is learned anew. */
async function readMeasured(path: string): Promise<MeasuredProxies['proxies']> {
  try {
    return MeasuredProxies.parse(JSON.parse(await readFile(path, 'utf8'))).proxies;
  } catch {
    return [];
  }
}
