import type { Roll } from '@quayside/shoot';
import type { RetryStep, RetryWish } from './roll-event.ts';
import { areFactsMissing } from './retry-on-request.ts';
import { canBeJudged } from './verdict.ts';
import { wantedRuns } from './wanted-runs.ts';

/**
 * What a run's id stands for in a roll's state. `other`: it is no run of this roll, or of none that can be asked for again.
 * `wanted`: it waits or is being made. `past`: it did not fail, or was tried again since.
 */
export type RunStanding =
  | { readonly standing: 'failed'; readonly step: RetryStep; readonly wish: RetryWish }
  | { readonly standing: 'wanted' | 'past' | 'other' };

/** Finds what failed in the run of this id. Runs are not kept, so it is what the roll's state says of that run's subject. */
export function findFailedRun(roll: Roll, runId: string): RunStanding {
  const marked = READERS.find(({ step }) => runId.startsWith(`${step}-${roll.id}-`));
  if (marked === undefined) return { standing: 'other' };
  const named = marked.read(roll, runId.slice(`${marked.step}-${roll.id}-`.length));
  if (named === null) return { standing: 'other' };
  if (wantedRuns(roll).some(({ id }) => id === runId)) return { standing: 'wanted' };
  return named.wish === null ? { standing: 'past' } : { standing: 'failed', step: marked.as, wish: named.wish };
}

/** Null: that is no id of such a run. A wish of null: nothing of it has failed. */
type Named = { readonly wish: RetryWish | null } | null;

interface Reader {
  /** The step as the id begins with it. */
  readonly step: string;
  readonly as: RetryStep;
  readonly read: (roll: Roll, rest: string) => Named;
}

const COPIED = /^(?<visit>\d+)-(?<parcel>\d+)-(?<attempt>\d+)-(?<names>.+)$/;

const READERS: readonly Reader[] = [
  { step: 'ingest', as: 'ingest', read: (roll, rest) => copyRun(roll, rest, namesIn) },
  { step: 'recopy', as: 'ingest', read: (roll, rest) => copyRun(roll, rest, namesAfterFirst) },
  { step: 'checksum', as: 'checksum', read: (roll, rest) => copyRun(roll, rest, namesIn) },
  { step: 'seal', as: 'seal', read: sealRun },
  { step: 'probe', as: 'probe', read: probeRun },
  { step: 'clearance', as: 'clearance', read: judgementRun },
];

function copyRun(roll: Roll, rest: string, read: typeof namesIn): Named {
  const { visit, parcel: index, attempt, names } = COPIED.exec(rest)?.groups ?? {};
  const destinations = read(Object.keys(roll.destinations), names ?? '');
  if (destinations === null) return null;
  const copies = roll.parcels[Number(index)]?.copies ?? {};
  const failed = destinations.filter((name) => {
    const copy = copies[name];
    // A later attempt is another run's.
    return copy?.state === 'failed' && copy.attempt <= Number(attempt) && Number(visit) === roll.visit;
  });
  const run = { parcel: Number(index), destinations: failed };
  return { wish: failed.length === 0 ? null : { destination: null, run } };
}

function sealRun(roll: Roll, rest: string): Named {
  const [, visit, attempt, name = ''] = /^(\d+)-(\d+)-(.+)$/.exec(rest) ?? [];
  const at = roll.destinations[name];
  if (at === undefined) return null;
  const hasFailed = at.standing === 'taking' && at.failure !== null;
  const isThisOne = Number(visit) === roll.visit && Number(attempt) === at.sealAttempt;
  return { wish: hasFailed && isThisOne ? { destination: name, step: 'seal' } : null };
}

function probeRun(roll: Roll, rest: string): Named {
  const [, visit] = /^(\d+)-(due|partly)$/.exec(rest) ?? [];
  if (visit === undefined) return null;
  return {
    wish: Number(visit) === roll.visit && areFactsMissing(roll) ? { destination: null, step: 'probe' } : null,
  };
}

/** A judgement that held the roll may be made again: what failed in it, it gave as its reason. */
function judgementRun(roll: Roll, rest: string): Named {
  if (!/^\d+$/.test(rest)) return null;
  const hasHeld = roll.clearance.verdict === 'hold' && roll.judged === Number(rest) && canBeJudged(roll);
  return { wish: hasHeld ? { destination: null, step: 'clearance' } : null };
}

/** The names that a text is made of, joined by hyphens, which may stand in a name too; null when it is not made of them. */
function namesIn(known: readonly string[], text: string): readonly string[] | null {
  if (known.includes(text)) return [text];
  for (const name of known) {
    const rest = text.startsWith(`${name}-`) ? namesIn(known, text.slice(name.length + 1)) : null;
    if (rest !== null) return [name, ...rest];
  }
  return null;
}

/** Those after the first, which is the copy that was read and not what failed. */
function namesAfterFirst(known: readonly string[], text: string): readonly string[] | null {
  const rests = known.map((name) => (text.startsWith(`${name}-`) ? namesIn(known, text.slice(name.length + 1)) : null));
  return rests.find((rest) => rest !== null) ?? null;
}
