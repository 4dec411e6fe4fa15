import { keepEvidence } from './keep-evidence.ts';
import { planRun } from './plan-run.ts';
import { type ClearedRoll, type RunOutcome, runOnce } from './run-once.ts';
import { TortureStudio } from './studio/torture-studio.ts';
import { hasFailed, type Tally, tallyUp } from './tally.ts';
import type { TortureOptions } from './torture-options.ts';
import { lookAtCopies } from './truth/look-at-copies.ts';
import { whatIsLacking } from './truth/what-is-lacking.ts';

/** A studio is given up after so many runs, so that its drives do not fill up; then everything it cleared is looked at once more. */
const RUNS_PER_STUDIO = 10;

interface Listeners {
  readonly say: (line: string) => void;
  readonly signal: AbortSignal;
  readonly onOutcome?: (outcome: RunOutcome) => void;
}

/** Makes the runs, in as many studios side by side as wanted, and counts. Ends early, with what there is, when the signal aborts. */
export async function runMany(options: TortureOptions, { say, signal, onOutcome }: Listeners): Promise<Tally> {
  const outcomes: RunOutcome[] = [];
  const lostLater: string[] = [];
  let next = options.from;
  const end = options.from + options.runs;
  const takeNumber = (): number | null => {
    if (next >= end || signal.aborted) return null;
    next += 1;
    return next - 1;
  };
  const lane = async (): Promise<void> => {
    for (let index = takeNumber(); index !== null; index = takeNumber()) {
      const studio = await TortureStudio.open();
      const cleared: ClearedRoll[] = [];
      try {
        for (let runs = 1; index !== null; runs += 1) {
          const outcome = await runOnce(studio, planRun(options.seed, index, options.only));
          outcomes.push(outcome);
          onOutcome?.(outcome);
          cleared.push(...outcome.cleared);
          say(lineFor(outcome, outcomes.length, options));
          const isOdd = hasFailed(outcome) || outcome.nudges.length > 0;
          if (isOdd) say(`  evidence: ${await keepEvidence(options.evidence, outcome, studio)}`);
          if (isOdd || options.isVerbose) for (const line of outcome.story) say(`    ${line}`);
          // What a failed run has left behind must not be taken for the next one's.
          if (hasFailed(outcome) || runs === RUNS_PER_STUDIO) break;
          index = takeNumber();
        }
        for (const sentence of await findLostLater(studio, cleared)) {
          lostLater.push(sentence);
          say(`LOST in a studio of seed ${options.seed}, before run ${next}: ${sentence}`);
        }
      } finally {
        await studio[Symbol.asyncDispose]();
      }
    }
  };
  await Promise.all(Array.from({ length: Math.min(options.lanes, options.runs) }, lane));
  return tallyUp(outcomes, lostLater);
}

/** What was cleared in an earlier run must have outlived everything that came later in that studio. */
async function findLostLater(studio: TortureStudio, cleared: readonly ClearedRoll[]): Promise<readonly string[]> {
  const lost: string[] = [];
  for (const { roll, footage } of cleared) {
    const looked = [];
    for (const drive of studio.destinations) looked.push(await lookAtCopies(roll, drive));
    lost.push(...whatIsLacking(footage, looked).map((sentence) => `${roll.id}: ${sentence}`));
  }
  return lost;
}

function lineFor(outcome: RunOutcome, count: number, { seed, runs }: TortureOptions): string {
  const { plan, ended, wrongVerdicts, lostFiles, otherFaults, nudges, seconds } = outcome;
  const faults = plan.strikes.map(({ kind, moment }) => `${kind} (${moment})`).join(' + ');
  const extra = [
    ...(nudges.length > 0 ? [`nudged: ${nudges.join(' / ')}`] : []),
    ...wrongVerdicts.map((sentence) => `WRONG VERDICT: ${sentence}`),
    ...lostFiles.map((sentence) => `LOST: ${sentence}`),
    ...otherFaults.map((sentence) => `FAULT: ${sentence}`),
  ];
  const how = ended === 'clear' ? 'clear' : ended.toUpperCase();
  return [
    `${String(count).padStart(4)}/${runs}  seed ${seed} run ${plan.index}: ${faults}: ${how} in ${seconds.toFixed(1)} s`,
    ...extra,
  ].join('; ');
}
