import { loadavg } from 'node:os';
import { join } from 'node:path';
import { failureOf } from '@quayside/shoot';
import { benchApiLoad } from './api-load/api-load.ts';
import { BENCH_NAMES, type BenchName, type BenchOptions, readBenchOptions } from './bench-options.ts';
import type { BenchWork } from './bench-work.ts';
import { BENCH_FOLDER, openGround } from './ground.ts';
import { benchGuests } from './guests/guests.ts';
import { benchIdle } from './idle/idle.ts';
import { benchLargeFile } from './large-file/large-file.ts';
import { quietDisk } from './measures/quiet-disk.ts';
import { benchPage } from './page/page.ts';
import { printTable } from './print-table.ts';
import { benchProxyPlan } from './proxy-plan/proxy-plan.ts';
import { benchProxyRender } from './proxy-render/proxy-render.ts';
import { benchRebuild } from './rebuild/rebuild.ts';
import { benchResume } from './resume/resume.ts';
import type { Row } from './row.ts';
import { benchSmallFiles } from './small-files/small-files.ts';
import { benchSyncGroups } from './sync-groups/sync-groups.ts';
import { writeResults } from './write-results.ts';

const BENCHES: Readonly<Record<BenchName, (work: BenchWork) => Promise<readonly Row[]>>> = {
  'large-file': benchLargeFile,
  'small-files': benchSmallFiles,
  'sync-groups': benchSyncGroups,
  'proxy-plan': benchProxyPlan,
  'proxy-render': benchProxyRender,
  resume: benchResume,
  rebuild: benchRebuild,
  idle: benchIdle,
  page: benchPage,
  guests: benchGuests,
  'api-load': benchApiLoad,
};
const RESULTS = join(BENCH_FOLDER, 'results.json');

try {
  await bench(readBenchOptions(process.argv.slice(2)));
} catch (error) {
  process.stderr.write(`${failureOf(error).sentence}\n`);
  process.exitCode = 1;
}

/** Runs the benches asked for. A missed target is told in the table and is no failure. */
async function bench(options: BenchOptions): Promise<void> {
  const startedAt = new Date();
  const [loadBefore = 0] = loadavg();
  await using ground = await openGround(spaceFor(options));
  const areCachesDropped = await quietDisk();
  if (!areCachesDropped)
    say('The system’s caches may not be dropped by this user, so all files may come from memory; root may.');
  const rows: Row[] = [];
  for (const name of BENCH_NAMES.filter((one) => options.only.includes(one)))
    rows.push(...(await BENCHES[name]({ folder: ground.folder, options, say })));
  await writeResults(RESULTS, { options, startedAt, loadBefore, areCachesDropped, rows });
  say(`\n${printTable(rows)}\n\nWritten to ${RESULTS}.`);
}

function say(line: string): void {
  process.stdout.write(`${line}\n`);
}

/** The source and two copies of it, and room for what lies beside. */
function spaceFor({ only, sizeInBytes }: BenchOptions): number {
  const small = only.includes('small-files') ? 3 * 2 ** 30 : 0;
  const large = only.includes('large-file') ? sizeInBytes * 3 : 0;
  const groups = only.includes('sync-groups') ? 17 * 2 ** 30 : 0;
  const proxies = only.includes('proxy-render') ? 5 * 2 ** 30 : 0;
  // Two copies, and a tenth of each once more.
  const resumed = only.includes('resume') ? sizeInBytes * 2.5 * 2.2 : 0;
  return Math.max(small, large, resumed, groups, proxies) + 2 ** 30;
}
