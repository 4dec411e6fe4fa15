import { keyOfRun, type RunDecision } from '@quayside/pipeline';
import type { KnownSubject } from '../subjects/subjects-of-shoot.ts';
import type { LinedUp, Rank, RunLine } from './run-line.ts';
import { StopReason } from './stop-reason.ts';

/** What a run in the line is to do. */
export interface RunWork {
  readonly decision: RunDecision;
  readonly known: KnownSubject;
}

export interface LineSituation {
  readonly shootId: string;
  readonly decisions: readonly RunDecision[];
  readonly subjects: readonly KnownSubject[];
  /** The full names of the steps in use: what is under way of another was begun before its plugin changed, and goes on. */
  readonly steps: ReadonlySet<string>;
  /** The names of the destinations that are there. */
  readonly destinations: ReadonlySet<string>;
  readonly rankOf: (decision: RunDecision) => Rank;
  /** The rolls of the shoot that are proven at none of them. */
  readonly unproven: ReadonlySet<string>;
}

/** Names a run in the line. */
export function keyInLine(shootId: string, { step, subject }: Pick<RunDecision, 'step' | 'subject'>): string {
  return `${shootId} ${keyOfRun(step.fullName, subject)}`;
}

/** Brings the line to what is wanted now: adds what is to be made, drops what is not any more, stops what reads something else than it should. */
export function reconcileLine(line: RunLine<RunWork>, situation: LineSituation): void {
  const { shootId, decisions, subjects, rankOf } = situation;
  const wanted = new Map(decisions.map((decision) => [keyInLine(shootId, decision), decision]));
  for (const run of line.of(shootId)) {
    const decision = wanted.get(run.key);
    if (run.state === 'waiting' && decision?.verdict !== 'run') line.drop(run);
    const why = run.state === 'running' ? whyStop(run, decision, situation) : null;
    if (why !== null) run.stop.abort(new StopReason('waiting', why));
  }
  const known = new Map(subjects.map((one) => [`${one.subject.kind} ${one.subject.id}`, one]));
  for (const [key, decision] of wanted) {
    const { step, subject } = decision;
    const about = known.get(`${subject.kind} ${subject.id}`);
    if (decision.verdict !== 'run' || about === undefined) continue;
    const work = { decision, known: about };
    line.add({ key, shootId, plugin: step.plugin, step: step.fullName, work, rank: rankOf(decision) });
  }
}

function whyStop(
  { work, step }: LinedUp<RunWork>,
  now: RunDecision | undefined,
  { steps, destinations, unproven }: LineSituation,
): string | null {
  const { subject, fingerprint } = work.decision;
  if (!steps.has(step)) return null;
  if (!destinations.has(work.known.destination.name))
    return `The destination ${work.known.destination.name}, whose copies it read, went away, so it was stopped; it is made again.`;
  const opened = Object.keys(work.known.rollFolders).find((id) => unproven.has(id));
  if (opened !== undefined)
    return `Roll ${opened} opened again while it ran, so it was stopped; it is made again when the roll is proven.`;
  // Drives that come and go suspend what is asked of a whole shoot; whether anything has changed is known afterwards.
  if (now === undefined && subject.kind === 'shoot') return null;
  const isSame = now?.fingerprint.subject === fingerprint.subject && now.fingerprint.outputs === fingerprint.outputs;
  return isSame ? null : 'What it works on changed while it ran, so it was stopped; it is made again.';
}
