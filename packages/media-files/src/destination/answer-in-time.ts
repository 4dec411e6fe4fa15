import { setTimeout as wait } from 'node:timers/promises';
import { QuaysideError } from '@quayside/shoot';
import type { Destination } from '@quayside/step-sdk/built-in';

/** Longer than a disk at rest takes to spin up, and than one that is busy makes others wait. */
const PATIENCE_MS = 60_000;

const LATE = Symbol('late');

/** The roots of those that something still waits for: a destination that hangs shall hold few threads, not all of them. */
const hanging = new Set<string>();

/**
 * What a destination answers, unless that takes too long: a dead disk or server must not keep the others waiting. The question
 * itself cannot be called off; until it ends, no other is put.
 * @throws QuaysideError `DESTINATION_SILENT`, or what `ask` throws
 */
export async function answerInTime<Answer>(
  destination: Pick<Destination, 'name' | 'root'>,
  ask: () => Promise<Answer>,
  patienceMs = PATIENCE_MS,
): Promise<Answer> {
  const { root } = destination;
  if (hanging.has(root)) throw silent(destination);
  const answer = ask();
  const over = new AbortController();
  const late = wait(patienceMs, LATE, { signal: over.signal, ref: false }).catch(() => LATE);
  try {
    const first = await Promise.race([answer, late]);
    if (first !== LATE) return await answer;
  } finally {
    over.abort();
  }
  hanging.add(root);
  const forget = (): void => void hanging.delete(root);
  answer.then(forget, forget);
  throw silent(destination);
}

function silent({ name, root }: Pick<Destination, 'name' | 'root'>): QuaysideError {
  return new QuaysideError({
    code: 'DESTINATION_SILENT',
    sentence: `Destination ${name} at ${root} is there, but does not answer. Check its cable, its power or its server; the work goes on by itself when it answers again.`,
    retry: 'destination',
  });
}
