import { parseArgs } from 'node:util';
import { FAULT_KINDS, type FaultKind } from './fault-kinds.ts';

export interface TortureOptions {
  readonly runs: number;
  readonly seed: number;
  /** The number of the first run: with the seed, it tells a run by itself. */
  readonly from: number;
  /** How many studios work side by side. */
  readonly lanes: number;
  readonly only: readonly FaultKind[];
  /** Where the story and the service's log of each failed run go. */
  readonly evidence: string;
  readonly isVerbose: boolean;
}

export const TORTURE_HELP = `npm run torture -- [--runs N] [--seed N] [--from N] [--lanes N] [--only KIND]... [--evidence FOLDER] [--verbose]

Runs the real service on virtual drives, brings faults about, and holds every verdict against what lies on the media.
  --runs N         how many runs; 60 unless told
  --seed N         which runs; from the clock unless told
  --from N         the number of the first run, to repeat one that failed: --seed S --from I --runs 1
  --lanes N        studios side by side; 2 unless told
  --only KIND      only this kind of fault; may be given again
  --evidence DIR   where the story and the log of a failed run go; .torture unless told
  --verbose        tells the story of every run

Kinds: ${FAULT_KINDS.join(', ')}
`;

/** The options as given. @throws Error in words for the terminal. */
export function tortureOptions(args: readonly string[]): TortureOptions | 'help' {
  const { values } = parseArgs({
    args: [...args],
    options: {
      runs: { type: 'string', default: '60' },
      seed: { type: 'string' },
      from: { type: 'string', default: '0' },
      lanes: { type: 'string', default: '2' },
      only: { type: 'string', multiple: true, default: [] },
      evidence: { type: 'string', default: '.torture' },
      verbose: { type: 'boolean', default: false },
      help: { type: 'boolean', default: false },
    },
  });
  if (values.help) return 'help';
  const only = values.only.map((name) => kindNamed(name));
  return {
    runs: wholeNumber('runs', values.runs),
    seed: wholeNumber('seed', values.seed ?? String(Date.now() % 1_000_000)),
    from: wholeNumber('from', values.from),
    lanes: Math.max(1, wholeNumber('lanes', values.lanes)),
    only: only.length === 0 ? FAULT_KINDS : only,
    evidence: values.evidence,
    isVerbose: values.verbose,
  };
}

function wholeNumber(name: string, text: string): number {
  const number = Number(text);
  if (Number.isSafeInteger(number) && number >= 0) return number;
  throw new Error(`--${name} is "${text}", which is no whole number.`);
}

function kindNamed(name: string): FaultKind {
  const kind = FAULT_KINDS.find((one) => one === name);
  if (kind !== undefined) return kind;
  throw new Error(`"${name}" is no kind of fault. There are: ${FAULT_KINDS.join(', ')}.`);
}
