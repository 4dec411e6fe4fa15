import type { FaultKind } from './fault-kinds.ts';
import type { RunOutcome } from './run-once.ts';

/** What all runs came to. */
export interface Tally {
  readonly runs: number;
  readonly wrongVerdicts: number;
  readonly lostFiles: number;
  readonly stuck: number;
  readonly broken: number;
  readonly otherFaults: number;
  readonly lines: readonly string[];
  /** The plain sum, the last line. */
  readonly sum: string;
}

/** Counts by kind of fault; a run with two faults counts under both. */
export function tallyUp(outcomes: readonly RunOutcome[], lostLater: readonly string[]): Tally {
  const kinds = new Map<FaultKind, RunOutcome[]>();
  for (const outcome of outcomes) {
    for (const { kind } of outcome.plan.strikes) kinds.set(kind, [...(kinds.get(kind) ?? []), outcome]);
  }
  const width = Math.max(4, ...[...kinds.keys()].map((kind) => kind.length));
  const row = (name: string, ...cells: readonly (string | number)[]): string =>
    [name.padEnd(width), ...cells.map((cell) => String(cell).padStart(8))].join(' ');
  const total = (pick: (outcome: RunOutcome) => number, among = outcomes): number =>
    among.reduce((sum, outcome) => sum + pick(outcome), 0);
  const wrongVerdicts = total(({ wrongVerdicts: wrong }) => wrong.length);
  const lostFiles = total(({ lostFiles: lost }) => lost.length) + lostLater.length;
  return {
    runs: outcomes.length,
    wrongVerdicts,
    lostFiles,
    stuck: total(isStuck),
    broken: total(isBroken),
    otherFaults: total(({ otherFaults }) => otherFaults.length),
    lines: [
      row('kind of fault', 'runs', 'clear', 'nudged', 'stuck', 'broken', 'wrong', 'lost', 'seconds'),
      ...[...kinds].toSorted(byName).map(([kind, among]) =>
        row(
          kind,
          among.length,
          total(({ ended }) => Number(ended === 'clear'), among),
          total(({ nudges }) => Number(nudges.length > 0), among),
          total(isStuck, among),
          total(isBroken, among),
          total((outcome) => outcome.wrongVerdicts.length, among),
          total((outcome) => outcome.lostFiles.length, among),
          (total(({ seconds }) => seconds, among) / among.length).toFixed(1),
        ),
      ),
      `${total(({ checkedVerdicts }) => checkedVerdicts)} verdicts of clear were checked, ${total(({ missedMoments }) => missedMoments)} moments did not come`,
      `stuck ${total(isStuck)}, broken ${total(isBroken)}, other faults ${total(({ otherFaults }) => otherFaults.length)}, nudged ${total(({ nudges }) => Number(nudges.length > 0))}`,
    ],
    sum: `runs ${outcomes.length}, wrong verdicts ${wrongVerdicts}, lost files ${lostFiles}`,
  };
}

/** Whether a run is one to be looked into. */
export function hasFailed(outcome: RunOutcome): boolean {
  const { ended, wrongVerdicts, lostFiles, otherFaults } = outcome;
  return ended !== 'clear' || wrongVerdicts.length + lostFiles.length + otherFaults.length > 0;
}

function isStuck({ ended }: RunOutcome): number {
  return Number(ended === 'stuck');
}

function isBroken({ ended }: RunOutcome): number {
  return Number(ended === 'broken');
}

function byName([one]: readonly [FaultKind, unknown], [other]: readonly [FaultKind, unknown]): number {
  return one < other ? -1 : Number(one > other);
}
