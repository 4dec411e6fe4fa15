import { parseArgs } from 'node:util';
import { QuaysideError } from '@quayside/shoot';

export const BENCH_NAMES = [
  'large-file',
  'small-files',
  'resume',
  'sync-groups',
  'proxy-plan',
  'proxy-render',
  'rebuild',
  'idle',
  'page',
  'guests',
  'api-load',
] as const;
export type BenchName = (typeof BENCH_NAMES)[number];

export interface BenchOptions {
  readonly only: readonly BenchName[];
  /** Rounds of each comparison; the median of the rounds counts. */
  readonly repeat: number;
  /** Of the large file. */
  readonly sizeInBytes: number;
}

const UNITS: Readonly<Record<string, number>> = { MiB: 2 ** 20, GiB: 2 ** 30 };

/** Reads the command line. @throws QuaysideError `USAGE` that names the option and what it takes. */
export function readBenchOptions(args: readonly string[]): BenchOptions {
  const { only, repeat, size } = parse(args);
  const unknown = only.find((name) => !isBenchName(name));
  if (unknown !== undefined) throw usage(`--only takes ${BENCH_NAMES.join(', ')}; got "${unknown}".`);
  const rounds = Number(repeat);
  if (!Number.isInteger(rounds) || rounds < 1 || rounds > 99) throw usage(`--repeat takes 1 to 99; got "${repeat}".`);
  return {
    only: only.length === 0 ? BENCH_NAMES : only.filter(isBenchName),
    repeat: rounds,
    sizeInBytes: bytesIn(size),
  };
}

function parse(args: readonly string[]): { only: readonly string[]; repeat: string; size: string } {
  try {
    const { values } = parseArgs({
      args: [...args],
      options: {
        only: { type: 'string', multiple: true, default: [] },
        repeat: { type: 'string', default: '3' },
        size: { type: 'string', default: '4GiB' },
      },
    });
    return values;
  } catch (error) {
    throw usage(error instanceof Error ? error.message : String(error));
  }
}

function bytesIn(size: string): number {
  const [, amount, unit] = /^(\d+) ?(MiB|GiB)$/.exec(size) ?? [];
  const bytes = Number(amount) * (UNITS[unit ?? ''] ?? Number.NaN);
  if (bytes >= 64 * 2 ** 20 && bytes <= 64 * 2 ** 30) return bytes;
  throw usage(`--size takes the size of the large file, 64MiB to 64GiB, such as 4GiB; got "${size}".`);
}

function isBenchName(name: string): name is BenchName {
  return BENCH_NAMES.some((known) => known === name);
}

function usage(what: string): QuaysideError {
  const sentence = `${what} Usage: npm run bench -- [--only ${BENCH_NAMES.join('|')}] [--repeat 3] [--size 4GiB]`;
  return new QuaysideError({ code: 'USAGE', sentence, retry: 'never' });
}
