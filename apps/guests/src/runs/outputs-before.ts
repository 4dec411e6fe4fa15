import type { Store } from '@quayside/job-queue';
import type { GuestStep, GuestSubject } from '@quayside/pipeline';
import type { KnownRun, KnownRuns } from './known-runs.ts';

interface About {
  readonly step: GuestStep;
  readonly subject: GuestSubject;
  /** Of the shoot. */
  readonly runs: KnownRuns;
  /** All steps in use. */
  readonly steps: readonly GuestStep[];
}

const WIDTH = { clip: 0, roll: 1, shoot: 2 } as const;
const AT_ONCE = 100;

/** What the steps that a step comes after gave for its subject: one output, or for a narrower step one for each of its subjects. */
export async function outputsBefore(
  store: Store,
  { step, subject, runs, steps }: About,
): Promise<Readonly<Record<string, unknown>>> {
  const names = new Set(step.after.filter((name) => name.includes('/')));
  if (names.size === 0) return {};
  const narrower = steps.filter(({ fullName, scope }) => names.has(fullName) && WIDTH[scope] < WIDTH[subject.kind]);
  const outputs: Record<string, unknown> = Object.fromEntries(narrower.map(({ fullName }) => [fullName, {}]));
  const before = runsBefore(names, { step, subject, runs, steps }).filter(({ state }) => state === 'done');
  for (let from = 0; from < before.length; from += AT_ONCE) {
    const some = before.slice(from, from + AT_ONCE);
    const records = await Promise.all(some.map(({ id }) => store.guestRun(id)));
    for (const [place, run] of some.entries()) {
      const output = records[place]?.output ?? null;
      const given = outputs[run.step];
      if (WIDTH[run.subject.kind] < WIDTH[subject.kind] && typeof given === 'object' && given !== null)
        Object.assign(given, { [run.subject.id]: output });
      else outputs[run.step] = output;
    }
  }
  return outputs;
}

function runsBefore(names: ReadonlySet<string>, { subject, runs, steps }: About): readonly KnownRun[] {
  const scopes = steps.filter(({ fullName }) => names.has(fullName)).map(({ scope }) => scope);
  // Ten thousand clips, each with one run before it, are not to be gone through ten thousand times.
  if (scopes.every((scope) => scope === subject.kind))
    return [...names].flatMap((name) => runs.get(name, subject) ?? []);
  return runs.all().filter((run) => names.has(run.step) && isAbout(run, subject));
}

function isAbout(run: KnownRun, subject: GuestSubject): boolean {
  if (run.subject.kind === subject.kind) return run.subject.id === subject.id;
  return subject.rollId === null || run.rollId === null || run.rollId === subject.rollId;
}
