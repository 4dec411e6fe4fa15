import { noteOnRival, type RivalRun } from '../measures/run-rival.ts';
import { moversMemoryRow } from '../processes/memory-row.ts';
import { medianOf, type Row } from '../row.ts';
import type { ProvenRoll } from '../service/prove-roll.ts';
import { LIMIT_SENTENCE } from './measure-limit.ts';
import type { SparseRun } from './prove-sparse-file.ts';
import { CP_AND_XXHSUM, CP_AND_XXHSUM_FROM_MEDIUM, RCLONE } from './rival-lines.ts';

/** One round: each in turn, side by side. */
export interface LargeFileRound {
  /** Seconds. */
  readonly limit: number;
  readonly ours: ProvenRoll;
  readonly cp: RivalRun;
  /** The same with what it proves read from the medium, as ours is; null where it was not run. */
  readonly coldCp: RivalRun | null;
  readonly rclone: RivalRun;
}

export interface LargeFileFindings {
  readonly rounds: readonly LargeFileRound[];
  readonly sparse: SparseRun;
  readonly sizeInBytes: number;
}

const bench = 'large-file' as const;

/** The rows of the large file from its rounds. Each ratio is of one round; the median of the rounds counts. */
export function largeFileRows({ rounds, sparse, sizeInBytes }: LargeFileFindings): readonly Row[] {
  const size = sizeText(sizeInBytes);
  const besideCp = rounds.map(({ ours, cp }) => ({ ours: ours.seconds, rival: cp }));
  const besideRclone = rounds.map(({ ours, rclone }) => ({ ours: ours.seconds, rival: rclone }));
  return [
    {
      ...speedRow(
        `${size}, speed beside cp twice + xxhsum three times`,
        besideCp.map(({ ours, rival }) => rival.seconds / ours),
        2,
      ),
      notes: [`\`${CP_AND_XXHSUM}\``, noteOnRival(besideCp), ...notesOnColdCp(rounds)],
    },
    {
      ...speedRow(
        `${size}, speed beside rclone copy twice + check --download`,
        besideRclone.map(({ ours, rival }) => rival.seconds / ours),
        3,
      ),
      notes: [`\`${RCLONE}\``, noteOnRival(besideRclone)],
    },
    {
      ...speedRow(
        `${size}, speed beside the disk's own limit (fio)`,
        rounds.map(({ limit, ours }) => limit / ours.seconds),
        0.85,
      ),
      notes: [LIMIT_SENTENCE],
    },
    processorRow(rounds, sizeInBytes),
    moversMemoryRow(
      bench,
      `${size}, peak memory of the processes that touch footage`,
      rounds.flatMap(({ ours }) => ours.memory ?? []),
    ),
    sparseRow(sparse),
  ];
}

function notesOnColdCp(rounds: readonly LargeFileRound[]): readonly string[] {
  return rounds.flatMap(({ ours, coldCp }) =>
    coldCp === null
      ? []
      : [
          `with its copies read from the medium too (\`${CP_AND_XXHSUM_FROM_MEDIUM}\`) the ratio is ${(coldCp.seconds / ours.seconds).toFixed(2)}, in one round`,
        ],
  );
}

function speedRow(what: string, samples: readonly number[], limit: number): Row {
  const target = { sense: 'at least', limit } as const;
  return { bench, what, unit: 'times', value: medianOf(samples), samples, target, notes: [] };
}

function processorRow(rounds: readonly LargeFileRound[], sizeInBytes: number): Row {
  const samples = rounds.flatMap(({ ours }) => ours.coreSeconds ?? []).map((used) => used / (sizeInBytes / 2 ** 30));
  return {
    bench,
    what: `${sizeText(sizeInBytes)}, processor time per GiB of source, all processes`,
    unit: 'core-s/GiB',
    value: medianOf(samples),
    samples,
    target: { sense: 'at most', limit: 1.2 },
    notes: samples.length === 0 ? ['it can be counted on Linux only'] : [],
  };
}

function sparseRow({ sizeInBytes, roll, why }: SparseRun): Row {
  const what = `${sizeText(sizeInBytes)} sparse, peak memory of the processes that touch footage`;
  const row = moversMemoryRow(bench, what, roll?.memory ? [roll.memory] : []);
  if (roll === null) return { ...row, notes: [`it wants destinations in compressed memory (zram), and root: ${why}`] };
  const rate = sizeInBytes / 2 ** 20 / roll.seconds;
  return {
    ...row,
    notes: [...row.notes, `destinations in compressed memory, ${rate.toFixed(0)} MiB of source a second`],
  };
}

function sizeText(bytes: number): string {
  return bytes >= 2 ** 30 ? `${bytes / 2 ** 30} GiB` : `${bytes / 2 ** 20} MiB`;
}
