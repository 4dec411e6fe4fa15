import type { BuiltInStep } from '@quayside/shoot';
import { differenceOf, type Fingerprint } from './fingerprint.ts';
import type { GuestStep } from './order-steps.ts';
import { MOST_TRIES, pauseBeforeTry } from './pause-before-try.ts';

/** What a guest's step can run on: a proven clip, roll or shoot. */
export interface GuestSubject {
  readonly kind: GuestStep['scope'];
  readonly id: string;
  /** Null for a shoot. */
  readonly rollId: string | null;
  /** Digest of its facts and copies. */
  readonly state: string;
  /** The built-in steps that are done for it as it is. */
  readonly done: ReadonlySet<BuiltInStep>;
}

/** What a built-in step gives for a subject to the guests' steps that come after it. */
export interface BuiltInOutput {
  /** Whether these may run on it; `why` says what they wait for, or why they rest. */
  readonly verdict: 'run' | 'wait' | 'rest';
  readonly why: string;
  /** Equal when and only when what they are given is: another one has them run again. */
  readonly state: string;
}

/** How the last run of a step on a subject ended. `waiting`: it is to be made again, for the reason in `why`. */
export interface LastRun {
  readonly fingerprint: Fingerprint;
  readonly state: 'done' | 'skipped' | 'failed' | 'cancelled' | 'waiting';
  readonly why: string;
  /** Digest of its output; empty without one. */
  readonly output: string;
  /** How often it was tried with this fingerprint. */
  readonly tries: number;
  readonly retry: 'never' | 'later';
  readonly endedAtMs: number;
}

/**
 * Whether a step runs on a subject now, and why. `run`: it is to be made. `keep`: what it gave last still holds. `wait`:
 * something else comes first, or the pause before another try. `rest`: nothing happens before something changes or a person asks.
 */
export interface RunDecision {
  readonly step: GuestStep;
  readonly subject: GuestSubject;
  readonly verdict: 'run' | 'keep' | 'wait' | 'rest';
  readonly why: string;
  readonly fingerprint: Fingerprint;
  readonly tries: number;
  /** When the pause before another try is over; null when it waits for none. */
  readonly notBeforeMs: number | null;
}

export interface Situation {
  /** In order, as `orderSteps` gives them. */
  readonly steps: readonly GuestStep[];
  /** The subjects of one shoot. */
  readonly subjects: readonly GuestSubject[];
  /** By `keyOfRun`. */
  readonly lastRuns: ReadonlyMap<string, LastRun>;
  /** What built-in steps give, by `keyOfRun`; those that give nothing are not in it. */
  readonly builtIn: ReadonlyMap<string, BuiltInOutput>;
  /** Digest of the configuration by full name of the step. */
  readonly configs: ReadonlyMap<string, string>;
  readonly nowMs: number;
  /** A short text that is equal when and only when the text is. */
  readonly digest: (text: string) => string;
}

/** Names a step on a subject. */
export function keyOfRun(step: string, subject: Pick<GuestSubject, 'kind' | 'id'>): string {
  return `${step} ${subject.kind} ${subject.id}`;
}

/** Decides for each step on each of its subjects in a shoot. A function of its arguments alone: doing it twice changes nothing. */
export function decideRuns(situation: Situation): readonly RunDecision[] {
  const decided = new Map<string, RunDecision>();
  for (const step of situation.steps) {
    for (const subject of situation.subjects) {
      if (subject.kind === step.scope)
        decided.set(keyOfRun(step.fullName, subject), decide({ situation, step, subject }, decided));
    }
  }
  return [...decided.values()];
}

interface Case {
  readonly situation: Situation;
  readonly step: GuestStep;
  readonly subject: GuestSubject;
}

function decide({ situation, step, subject }: Case, decided: ReadonlyMap<string, RunDecision>): RunDecision {
  const before = decisionsBefore({ situation, step, subject }, decided);
  const lastOf = (one: RunDecision): LastRun | undefined =>
    situation.lastRuns.get(keyOfRun(one.step.fullName, one.subject));
  const given = step.after.flatMap((name) => situation.builtIn.get(keyOfRun(name, subject)) ?? []);
  const fingerprint = {
    version: step.version,
    config: situation.configs.get(step.fullName) ?? '',
    subject: subject.state,
    outputs: situation.digest(
      [
        ...before.map((one) => `${one.step.fullName} ${one.subject.id} ${lastOf(one)?.output ?? ''}`),
        ...given.map(({ state }) => state),
      ].join('\n'),
    ),
  };
  const last = situation.lastRuns.get(keyOfRun(step.fullName, subject));
  const decision: Decide = (verdict, why, { tries = 0, notBeforeMs = null } = {}) => ({
    step,
    subject,
    verdict,
    why,
    fingerprint,
    tries,
    notBeforeMs,
  });
  const missing = step.after.find((name) => isBuiltIn(name) && !subject.done.has(name));
  if (missing !== undefined) return decision('wait', `It waits for ${missing}.`);
  const refused = given.find(({ verdict }) => verdict !== 'run');
  // What is there already waits for nothing.
  const isThere = last?.state === 'done' && differenceOf(last.fingerprint, fingerprint) === null;
  if (refused !== undefined && !(isThere && refused.verdict === 'wait')) return decision(refused.verdict, refused.why);
  const pending = before.find(({ verdict }) => verdict === 'run' || verdict === 'wait');
  if (pending !== undefined) return decision('wait', `It waits for ${pending.step.fullName}.`);
  const own = before.find((one) => !isNarrower(one.step.scope, step.scope) && lastOf(one)?.state !== 'done');
  if (own !== undefined) return decision('rest', `${own.step.fullName} gave it nothing to go on with.`);
  if (last === undefined) return decision('run', 'It has not run yet.');
  if (last.state === 'waiting') return decision('run', last.why, last);
  const difference = differenceOf(last.fingerprint, fingerprint);
  if (difference !== null) return decision('run', `It runs since ${difference}.`);
  if (last.state === 'done') return decision('keep', 'It ran with the same inputs, configuration and version.', last);
  if (last.state === 'skipped') return decision('rest', 'The step found that it does not apply.', last);
  if (last.state === 'cancelled') return decision('rest', last.why, last);
  return decideRetry(last, situation.nowMs, decision);
}

type Decide = (
  verdict: RunDecision['verdict'],
  why: string,
  more?: { readonly tries?: number; readonly notBeforeMs?: number },
) => RunDecision;

function decideRetry({ retry, tries, endedAtMs }: LastRun, nowMs: number, decision: Decide): RunDecision {
  if (retry === 'never') return decision('rest', 'It failed, and trying again would not help.', { tries });
  if (tries >= MOST_TRIES) return decision('rest', `It failed ${tries} times.`, { tries });
  const notBeforeMs = endedAtMs + pauseBeforeTry(tries);
  if (nowMs < notBeforeMs)
    return decision('wait', 'It failed and is tried again after a pause.', { tries, notBeforeMs });
  return decision('run', `Try ${tries + 1} of ${MOST_TRIES} after a failure.`, { tries });
}

/** The decisions that this one builds on: for the same or a wider subject one, for narrower ones each of them. */
function decisionsBefore(
  { situation, step, subject }: Case,
  decided: ReadonlyMap<string, RunDecision>,
): readonly RunDecision[] {
  return step.after
    .filter((name) => !isBuiltIn(name))
    .flatMap((name) => {
      const scope = situation.steps.find(({ fullName }) => fullName === name)?.scope;
      const others = scope === undefined ? [] : subjectsAbout(situation, subject, scope);
      return others.flatMap((other) => decided.get(keyOfRun(name, other)) ?? []);
    });
}

/** The subjects of a scope that a subject is, is part of, or is made of. */
function subjectsAbout(
  { subjects }: Situation,
  subject: GuestSubject,
  scope: GuestSubject['kind'],
): readonly GuestSubject[] {
  if (scope === subject.kind) return [subject];
  const places = placesOf(subjects);
  const isOfAll = scope === 'shoot' || subject.kind === 'shoot';
  return places.get(isOfAll ? scope : `${scope} ${subject.rollId}`) ?? [];
}

/** The subjects by kind, and by kind and roll: of ten thousand clips only those of one roll are gone through. */
function placesOf(subjects: readonly GuestSubject[]): ReadonlyMap<string, readonly GuestSubject[]> {
  const known = placed.get(subjects);
  if (known !== undefined) return known;
  const places = new Map<string, GuestSubject[]>();
  for (const subject of subjects) {
    for (const key of [subject.kind, `${subject.kind} ${subject.rollId}`]) {
      const there = places.get(key);
      if (there === undefined) places.set(key, [subject]);
      else there.push(subject);
    }
  }
  placed.set(subjects, places);
  return places;
}

const placed = new WeakMap<readonly GuestSubject[], ReadonlyMap<string, readonly GuestSubject[]>>();

const WIDTH = { clip: 0, roll: 1, shoot: 2 } as const;

function isNarrower(one: GuestStep['scope'], other: GuestStep['scope']): boolean {
  return WIDTH[one] < WIDTH[other];
}

function isBuiltIn(name: string): name is BuiltInStep {
  return !name.includes('/');
}
