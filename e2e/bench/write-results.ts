import { writeFile } from 'node:fs/promises';
import { cpus, loadavg, release, totalmem } from 'node:os';
import type { BenchOptions } from './bench-options.ts';
import { isMet, type Row } from './row.ts';

export interface Results {
  readonly options: BenchOptions;
  readonly startedAt: Date;
  /** The system's load over the last minute when the bench began: what else went on. */
  readonly loadBefore: number;
  readonly areCachesDropped: boolean;
  readonly rows: readonly Row[];
}

/** Writes the results, with what is needed to compare them with another run, as JSON. */
export async function writeResults(file: string, results: Results): Promise<void> {
  const { options, startedAt, loadBefore, areCachesDropped, rows } = results;
  const cores = cpus();
  const machine = {
    processor: cores[0]?.model ?? 'unknown',
    cores: cores.length,
    memoryBytes: totalmem(),
    system: `${process.platform} ${release()}`,
    node: process.version,
  };
  const run = {
    format: 1,
    startedAt: startedAt.toISOString(),
    endedAt: new Date().toISOString(),
    machine,
    load: { before: loadBefore, after: loadavg()[0] },
    areCachesDropped,
    options,
    rows: rows.map((row) => ({ ...row, met: isMet(row) })),
  };
  await writeFile(file, `${JSON.stringify(run, null, 2)}\n`);
}
