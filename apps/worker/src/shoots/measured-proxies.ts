import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { MEASURED_PROXIES, MeasuredProxies } from '@quayside/proxy-planning';

/** What making proxies took on this machine, as the guests' process keeps it; nothing while nothing was made. */
export async function readMeasuredProxies(data: string): Promise<MeasuredProxies['proxies']> {
  const text = await readFile(join(data, MEASURED_PROXIES), 'utf8').catch(() => null);
  if (text === null) return [];
  try {
    return MeasuredProxies.parse(JSON.parse(text)).proxies;
  } catch {
    // Damaged, or of another version: it is learned anew.
    return [];
  }
}
