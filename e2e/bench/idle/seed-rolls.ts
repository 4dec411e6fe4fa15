import { createHash, randomUUID } from 'node:crypto';
import { clipsOfRolls, letRollsSleep, openStore, startRedis, type Store } from '@quayside/job-queue';
import { advance, factsState, matterToTell, planParcels, recordsState, type RollEvent } from '@quayside/pipeline';
import type { Copy, FileEntry, Roll, VolumeIdentity } from '@quayside/shoot';
import { groupBySync, GroupingPolicy } from '@quayside/sync-grouping';
import { factsOfTake, TAKE_EVERY_SECONDS } from './facts-of-take.ts';

export interface Seeding {
  readonly dataFolder: string;
  readonly destinations: readonly string[];
  readonly rolls: number;
  readonly clipsPerRoll: number;
  /** How many each day's shoot has; twelve unless told. */
  readonly rollsPerShoot?: number;
}

const RECORDERS = ['wheel', 'hands', 'wide', 'kiln'] as const;
const FIRST_DAY = Date.UTC(2026, 0, 5);
const FIRST_TAKE_MS = 9 * 3600 * 1000;
const DAY_MS = 24 * 3600 * 1000;
const ROLLS_PER_DAY = 12;
const CLIP_BYTES = 1_900_000_000;

/**
 * Fills a service's view, while the service is off, with rolls that went all the way to clear and whose drives have left:
 * what a studio has after some months. Written as the worker writes them.
 */
export async function seedRolls({
  dataFolder,
  destinations,
  rolls,
  clipsPerRoll,
  rollsPerShoot = ROLLS_PER_DAY,
}: Seeding): Promise<void> {
  const redis = await startRedis({ dataFolder, log: () => undefined });
  const store = await openStore(redis.address);
  try {
    for (let number = 0; number < rolls; number += 1) {
      const { shootId } = await seedRoll(store, { number, destinations, clipsPerRoll, rollsPerShoot });
      if ((number + 1) % rollsPerShoot === 0 || number + 1 === rolls) await bringShootToRest(store, shootId);
    }
    await store.markWhole();
  } finally {
    await store.close();
    await redis.stop();
  }
}

interface RollWish {
  readonly rollsPerShoot: number;
  readonly number: number;
  readonly destinations: readonly string[];
  readonly clipsPerRoll: number;
}

async function seedRoll(store: Store, { number, destinations, clipsPerRoll, rollsPerShoot }: RollWish): Promise<Roll> {
  const day = new Date(FIRST_DAY + Math.floor(number / rollsPerShoot) * DAY_MS);
  const now = day.toISOString();
  const shootId = now.slice(0, 10);
  const recorder = RECORDERS[number % RECORDERS.length] ?? 'wheel';
  const digest = createHash('sha256').update(String(number)).digest('hex');
  const id = `${recorder}-${shootId.replaceAll('-', '')}-${digest.slice(0, 6)}`;
  const identity = identityOf(recorder, digest);
  // All recorders of a round load their drives in the same takes.
  const round = Math.floor((number % rollsPerShoot) / RECORDERS.length);
  const takesFrom = FIRST_TAKE_MS + day.getTime() + round * clipsPerRoll * TAKE_EVERY_SECONDS * 1000;
  const mount = { path: `/media/${recorder}`, mountId: String(40 + number), device: '8:17' };
  const parcels = planParcels(filesOf(recorder, clipsPerRoll, takesFrom));
  const roll = { id, shootId, recorder, role: 'camera' as const, volume: identity, mount, fingerprint: digest };
  const files = parcels.flat();

  if (number % rollsPerShoot === 0)
    await store.saveShoot({ id: shootId, name: shootId, openedAt: now, closedAt: null, named: false });
  await store.saveVolume({
    identity,
    mount: null,
    standing: 'gone',
    recorder,
    rollId: id,
    fileCount: files.length,
    sizeInBytes: files.length * CLIP_BYTES,
    litterCount: 0,
    why: null,
    seenAt: now,
  });
  await store.noteRollOfVolume(identity.key, id);
  await store.saveListing(identity.key, { files, litterCount: 0, specials: [], unreadable: [] });
  await store.saveParcels(id, 1, parcels);
  const copies = Object.fromEntries(files.map(({ path }) => [path, verifiedCopy(path)]));
  for (const name of destinations) await store.noteCopies(id, name, copies);
  const listed: RollEvent = {
    type: 'listed',
    roll: {
      ...roll,
      litterCount: 2,
      facts: 'read',
      parcels: parcels.map((parcel) => ({
        firstPath: parcel[0]?.path ?? '',
        fileCount: parcel.length,
        sizeInBytes: parcel.length * CLIP_BYTES,
      })),
      destinations: Object.fromEntries(destinations.map((name) => [name, null])),
      findings: [],
    },
  };
  const facts = files.map((file) => ({ ...file, facts: factsOfTake((file.modifiedMs - day.getTime()) / 1000) }));
  await store.saveFacts(id, facts);
  const { after } = await store.changeRoll(id, () => bringToRest(advance(null, listed, now), now));
  await store.publish([{ type: 'roll.clear', at: now, subject: id, sentence: `Roll ${id} is clear.` }]);
  return after;
}

/** The sync groups as the worker works them out; that its records are written is only noted. Then nothing is wanted any more. */
async function bringShootToRest(store: Store, shootId: string): Promise<void> {
  const rolls = await store.rollsOfShoot(shootId);
  const at = `${shootId}T20:00:00.000Z`;
  const clips = await clipsOfRolls(store, rolls);
  await store.saveGrouping(
    shootId,
    groupBySync(clips, GroupingPolicy.parse({}), { shootId, at, shootDays: [shootId] }),
  );
  await store.noteShootProgress(shootId, { grouped: factsState(rolls) });
  await store.noteShootProgress(shootId, { recorded: recordsState(rolls, await store.shootProgress(shootId)) });
  await letRollsSleep(store);
  const [awake] = await store.awakeRolls();
  if (awake !== undefined) throw new Error(`Roll ${awake.id} should want nothing any more.`);
}

/** The events of a roll's whole way, one after the other, through the state machine itself. */
function bringToRest(listed: Roll, now: string): Roll {
  const destinations = Object.keys(listed.destinations);
  const written = Object.fromEntries(destinations.map((name) => [name, null]));
  const copied = listed.parcels.flatMap(({ index: parcel }): RollEvent[] => [
    { type: 'parcelStarted', visit: 1, parcel, destinations },
    { type: 'parcelCopied', visit: 1, parcel, outcome: written, findings: [] },
    ...destinations.map((destination): RollEvent => {
      return { type: 'parcelReadBack', visit: 1, parcel, destination, failure: null, findings: [] };
    }),
  ]);
  // All were read again lately: one that is due would be work.
  const readBackAt = new Date().toISOString();
  const sealed = destinations.map((destination): RollEvent => {
    return { type: 'sealed', visit: 1, destination, attempt: 0, generation: 1, readBackAt };
  });
  const judged: RollEvent = {
    type: 'judged',
    due: listed.judgementDue,
    clearance: { verdict: 'clear', judgedAt: now, cautions: [] },
    findings: [],
  };
  const clear = [...copied, ...sealed, judged].reduce((roll, event) => advance(roll, event, now), listed);
  const told = advance(clear, { type: 'told', matter: matterToTell(clear)?.matter ?? '' }, now);
  return advance(told, { type: 'volumeLeft' }, now);
}

function identityOf(recorder: string, digest: string): VolumeIdentity {
  const uuid = `${digest.slice(0, 4)}-${digest.slice(4, 8)}`.toUpperCase();
  return {
    key: `uuid-${digest.slice(0, 16)}`,
    basis: 'uuid',
    uuid,
    serial: null,
    label: recorder.toUpperCase(),
    fileSystem: 'exfat',
    sizeInBytes: 1_000_000_000_000,
  };
}

function filesOf(recorder: string, count: number, fromMs: number): readonly FileEntry[] {
  return Array.from({ length: count }, (_, index) => ({
    path: `CLIPS/${recorder}-take-${String(index + 1).padStart(4, '0')}.mov`,
    sizeInBytes: CLIP_BYTES,
    modifiedMs: fromMs + index * TAKE_EVERY_SECONDS * 1000,
  }));
}

function verifiedCopy(storedPath: string): Copy {
  return {
    state: 'verified',
    storedPath,
    digests: { xxh128: randomUUID().replaceAll('-', '') },
    method: 'direct',
  };
}
