import { HealthAnswer, RollAnswer, VolumeAnswer } from '@quayside/admin-api';
import { z } from 'zod';
import type { ServiceApi } from '../service-api/call-api.ts';

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
const Rolls = z.object({ rolls: z.array(RollAnswer), next: z.string().nullable() });

/**
 * Asks the service for its state. `known` are rolls of an earlier look that need not be looked for again: looking for all
 * those on hold reads every roll there is, so a screen that is refreshed each second does it only now and then.
 */
export async function gatherStatus(service: ServiceApi, known: readonly RollAnswer[] | null): Promise<Status> {
  const atMs = Date.now();
  const [health, { volumes }] = await Promise.all([
    service.get('/v1/health', HealthAnswer),
    service.get('/v1/volumes', Volumes),
  ]);
  const connected = volumes
    .filter(({ mountPath }) => mountPath !== null)
    .toSorted((a, b) => compare(a.recorder ?? '\u{10ffff}', b.recorder ?? '\u{10ffff}') || compare(a.key, b.key));
  const held = known ?? (await rollsOnHold(service));
  const ids = new Set([...connected.flatMap(({ rollId }) => rollId ?? []), ...held.map(({ id }) => id)]);
  const fresh = new Map(known === null ? held.map((roll) => [roll.id, roll]) : []);
  const rolls = await Promise.all(
    [...ids].map(async (id) => fresh.get(id) ?? service.get(`/v1/rolls/${encodeURIComponent(id)}`, RollAnswer)),
  );
  return { health, connected, rolls, atMs };
}

async function rollsOnHold(service: ServiceApi): Promise<RollAnswer[]> {
  const rolls: RollAnswer[] = [];
  let cursor = '';
  for (;;) {
    const page = await service.get(`/v1/rolls?verdict=hold&limit=500${cursor}`, Rolls);
    rolls.push(...page.rolls);
    if (page.next === null) return rolls;
    cursor = `&cursor=${encodeURIComponent(page.next)}`;
  }
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
