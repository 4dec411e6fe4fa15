import { HealthAnswer, RollAnswer, VolumeAnswer } from '@quayside/admin-api';
import { type ApiClient, checkAnswer } from '@quayside/api-client';
import { z } from 'zod';

/** What the service knows at one moment, as far as `status` shows it. */
export interface Status {
  readonly health: HealthAnswer;
  /** The volumes that are connected now, in the order of their recorders. */
  readonly connected: readonly VolumeAnswer[];
  /** The rolls of those volumes, and those whose drives left before they were proven. */
  readonly rolls: readonly RollAnswer[];
  /** When it was asked, in milliseconds since 1970. */
  readonly atMs: number;
}

const Volumes = z.object({ volumes: z.array(VolumeAnswer) });
const Rolls = z.object({ rolls: z.array(RollAnswer) });

/**
 * Asks the service for its state. `known` are rolls of an earlier look that need not be looked for again: looking for all
 * those on hold reads every roll there is, so a screen that is refreshed each second does it only now and then. Each answer is
 * checked, because somebody records over a drive for what is shown.
 */
export async function gatherStatus(service: ApiClient, known: readonly RollAnswer[] | null): Promise<Status> {
  const atMs = Date.now();
  const [health, { volumes }] = await Promise.all([
    service.get('/v1/health').then((answer) => checkAnswer(HealthAnswer, answer)),
    service.get('/v1/volumes').then((answer) => checkAnswer(Volumes, answer)),
  ]);
  const connected = volumes
    .filter(({ mountPath }) => mountPath !== null)
    .toSorted((a, b) => compare(a.recorder ?? '\u{10ffff}', b.recorder ?? '\u{10ffff}') || compare(a.key, b.key));
  const held = known ?? (await rollsOnHold(service));
  const ids = new Set([...connected.flatMap(({ rollId }) => rollId ?? []), ...held.map(({ id }) => id)]);
  const fresh = new Map(known === null ? held.map((roll) => [roll.id, roll]) : []);
  const rolls = await Promise.all(
    [...ids].map(
      async (id) => fresh.get(id) ?? checkAnswer(RollAnswer, await service.get('/v1/rolls/{id}', { path: { id } })),
    ),
  );
  return { health, connected, rolls, atMs };
}

async function rollsOnHold(service: ApiClient): Promise<RollAnswer[]> {
  const rolls: RollAnswer[] = [];
  for await (const page of service.pages('/v1/rolls', { query: { verdict: 'hold', limit: 500 } }))
    rolls.push(...checkAnswer(Rolls, page).rolls);
  return rolls;
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
