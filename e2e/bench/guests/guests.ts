import type { BenchWork } from '../bench-work.ts';
import type { Row } from '../row.ts';
import { measureEngine } from './measure-engine.ts';
import { measureHost } from './measure-host.ts';

/** What running guests' steps costs: in the host alone, and by the whole service. On Linux, whose `/proc` tells. */
export async function benchGuests(work: BenchWork): Promise<readonly Row[]> {
  if (process.platform !== 'linux') return [];
  work.say('guests: running a step that does nothing in the host alone ...');
  const host = await measureHost(work.folder);
  return [...host, ...(await measureEngine(work))];
}
