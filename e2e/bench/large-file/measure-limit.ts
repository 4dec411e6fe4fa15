import { execFile } from 'node:child_process';
import { rm, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { quietDisk } from '../measures/quiet-disk.ts';

const run = promisify(execFile);

/** As in packages/media-files: chunks of 4 MiB, two reads ahead, and one write at a time to each destination. */
const BLOCK = '4m';
const READS_IN_FLIGHT = 2;
const WRITES_IN_FLIGHT = 1;

/** What `measureLimit` does, for the notes. */
export const LIMIT_SENTENCE = `fio with direct I/O in blocks of ${BLOCK}: the source read (${READS_IN_FLIGHT} in flight) while two files are written (${WRITES_IN_FLIGHT} in flight each) and synced, then both read back at once`;

/**
 * The seconds that the disk alone takes for the bytes that must move: the source read while two copies are written and
 * synced, then the two read back; no hash, no record, no queue. Leaves nothing behind.
 */
export async function measureLimit(folder: string, source: string): Promise<number> {
  const { size } = await stat(join(folder, source));
  const copies = ['limit-1', 'limit-2'];
  try {
    await quietDisk();
    const copying = await runFio({ folder, size, jobs: [readJob(source), ...copies.map(writeJob)] });
    const readingBack = await runFio({ folder, size, jobs: copies.map(readJob) });
    return copying + readingBack;
  } finally {
    for (const name of copies) await rm(join(folder, name), { force: true });
  }
}

function readJob(file: string): readonly string[] {
  return [`--name=read ${file}`, '--rw=read', `--filename=${file}`, `--iodepth=${READS_IN_FLIGHT}`];
}

function writeJob(file: string): readonly string[] {
  return [`--name=write ${file}`, '--rw=write', `--filename=${file}`, `--iodepth=${WRITES_IN_FLIGHT}`, '--end_fsync=1'];
}

interface FioWork {
  readonly folder: string;
  readonly size: number;
  readonly jobs: readonly (readonly string[])[];
}

/** Runs jobs at once and gives the seconds of the one that took longest. */
async function runFio({ folder, size, jobs }: FioWork): Promise<number> {
  const engine = process.platform === 'linux' ? 'libaio' : 'posixaio';
  const common = ['--output-format=json', `--ioengine=${engine}`, '--direct=1', `--bs=${BLOCK}`, `--size=${size}`];
  // Nothing is allocated beforehand: a copy grows as it is written.
  const { stdout } = await run('fio', [...common, '--fallocate=none', ...jobs.flat()], { cwd: folder });
  return Math.max(...runtimesIn(stdout)) / 1000;
}

function runtimesIn(report: string): readonly number[] {
  // fio may print warnings before its report. `job_runtime` is in milliseconds and includes the closing fsync.
  const { jobs } = JSON.parse(report.slice(report.indexOf('{'))) as { jobs: readonly { job_runtime: number }[] };
  return jobs.map(({ job_runtime: runtime }) => runtime);
}
