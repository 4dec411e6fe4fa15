import type { Store } from '@quayside/job-queue';
import type { GuestStep, GuestSubject } from '@quayside/pipeline';

interface About {
  readonly step: GuestStep;
  readonly subject: GuestSubject;
  readonly shootId: string;
  /** All steps in use. */
  readonly steps: readonly GuestStep[];
}

const WIDTH = { clip: 0, roll: 1, shoot: 2 } as const;

/** What the steps that a step comes after gave for its subject: one output, or for a narrower step one for each of its subjects. */
export async function outputsBefore(
  store: Store,
  { step, subject, shootId, steps }: About,
): Promise<Readonly<Record<string, unknown>>> {
  const names = new Set(step.after.filter((name) => name.includes('/')));
  if (names.size === 0) return {};
  const narrower = steps.filter(({ fullName, scope }) => names.has(fullName) && WIDTH[scope] < WIDTH[subject.kind]);
  const outputs: Record<string, unknown> = Object.fromEntries(narrower.map(({ fullName }) => [fullName, {}]));
  for (const run of await store.guestRuns(shootId)) {
    if (!names.has(run.step) || run.state !== 'done') continue;
    const isNarrower = WIDTH[run.subject.kind] < WIDTH[subject.kind];
    const isOfRoll = subject.rollId === null || run.rollId === null || run.rollId === subject.rollId;
    const isOfIt = run.subject.kind === subject.kind ? run.subject.id === subject.id : isOfRoll;
    if (!isOfIt) continue;
    const output = (await store.guestRun(run.id))?.output ?? null;
    outputs[run.step] = isNarrower ? { ...Object(outputs[run.step]), [run.subject.id]: output } : output;
  }
  return outputs;
}
