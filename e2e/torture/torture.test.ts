import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { canUseBay } from '../bay/can-use-bay.ts';
import { FAULT_KINDS, type FaultKind } from './fault-kinds.ts';
import { planRun } from './plan-run.ts';
import { runMany } from './run-many.ts';
import type { RunOutcome } from './run-once.ts';
import { sweepLeftOvers } from './studio/sweep-left-overs.ts';
import { hasFailed, type Tally } from './tally.ts';

const ability = await canUseBay();
/**
 * As many as the time of a submission allows; with `QUAYSIDE_TORTURE_RUNS=60` every kind of fault comes twice. Another seed
 * each day would find more, and fail where nobody broke anything.
 */
const RUNS = Number(process.env['QUAYSIDE_TORTURE_RUNS'] ?? '20');
const SEED = Number(process.env['QUAYSIDE_TORTURE_SEED'] ?? '2026');

/** The kinds that these runs bring about. */
const KINDS = FAULT_KINDS.filter((kind) =>
  Array.from({ length: RUNS }, (_, index) => planRun(SEED, index)).some(({ strikes }) =>
    strikes.some((strike) => strike.kind === kind),
  ),
);

// Verdicts and bytes are held against what md5sum, xxhsum and the published form of the manifests say of the media.
describe.skipIf(!ability.ok)(`under torture${ability.ok ? '' : ` (skipped: ${ability.reason})`}`, () => {
  const outcomes: RunOutcome[] = [];
  let tally: Tally | null = null;

  beforeAll(async () => {
    await sweepLeftOvers();
    const options = { runs: RUNS, seed: SEED, from: 0, lanes: 2, only: FAULT_KINDS, isVerbose: false };
    say(`seed ${SEED}`);
    tally = await runMany(
      { ...options, evidence: join(tmpdir(), 'quayside-torture-evidence') },
      { say, signal: new AbortController().signal, onOutcome: (outcome) => outcomes.push(outcome) },
    );
    for (const line of [...tally.lines, tally.sum]) say(line);
  }, 900_000);

  it.each(KINDS)('%s: nothing is lost, nothing is wrongly cleared, and every drive is clear in the end', (kind) => {
    const among = withKind(outcomes, kind);
    expect(among.length).toBeGreaterThan(0);
    expect(among.filter(hasFailed).map(inWords)).toEqual([]);
  });

  it('has held every verdict against the media, and lost nothing that an earlier run had cleared', () => {
    expect(tally).toMatchObject({ runs: RUNS, wrongVerdicts: 0, lostFiles: 0, stuck: 0, broken: 0, otherFaults: 0 });
    expect(tally?.sum).toBe(`runs ${RUNS}, wrong verdicts 0, lost files 0`);
  });
});

function say(line: string): void {
  process.stdout.write(`${line}\n`);
}

function withKind(outcomes: readonly RunOutcome[], kind: FaultKind): readonly RunOutcome[] {
  return outcomes.filter(({ plan }) => plan.strikes.some((strike) => strike.kind === kind));
}

/** Enough to repeat it: `npm run torture -- --seed S --from I --runs 1`. */
function inWords({ plan, ended, wrongVerdicts, lostFiles, otherFaults, story }: RunOutcome): string {
  return [
    `seed ${plan.seed} run ${plan.index} ended ${ended}`,
    ...wrongVerdicts,
    ...lostFiles,
    ...otherFaults,
    ...story,
  ].join('\n');
}
