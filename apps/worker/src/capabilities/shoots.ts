import type { Configuration } from '@quayside/configuration';
import { clipsOfRolls, currentFacts, renderingsOfShoot, type Store } from '@quayside/job-queue';
import { factsState, planState, recordsState } from '@quayside/pipeline';
import { type ClipRendering, type PlanOnRecord, standingOf } from '@quayside/proxy-planning';
import { QuaysideError, type Roll } from '@quayside/shoot';
import type { ShootPlace, Shoots } from '@quayside/step-sdk/built-in';
import type { DestinationBook } from '../destinations/destination-book.ts';
import { readRollRecord } from '../records/roll-record.ts';
import { writeAcknowledgements, writeFacts } from '../shoots/facts-record.ts';
import { filedProxies } from '../shoots/filed-proxies.ts';
import { readMeasuredProxies } from '../shoots/measured-proxies.ts';
import { guestResults } from '../shoots/guest-results.ts';
import { findRoomForProxies } from '../shoots/room-for-proxies.ts';
import { recordsFolder } from '../shoots/shoot-folder.ts';
import { writeRecords } from '../shoots/write-records.ts';

export interface ShootsParts {
  readonly store: Store;
  readonly book: DestinationBook;
  readonly configuration: Configuration;
}

/** The steps' view of a shoot, over the store and the records beside the footage. */
export function makeShoots({ store, book, configuration }: ShootsParts): Shoots {
  const isApprovalNeeded = configuration.proxies.approval === 'required';
  const renderingsOf = async (
    planned: PlanOnRecord | null,
    shootId: string,
  ): Promise<ReadonlyMap<string, ClipRendering>> => {
    if (planned === null) return new Map();
    const standing = standingOf(planned.plan, await store.planWord(shootId), isApprovalNeeded);
    return renderingsOfShoot(store, shootId, { clips: planned.plan.clips, standing: standing.state });
  };
  return {
    async material(shootId) {
      // The states are read before what they are the states of: a change in between is then seen as one, never missed.
      const rolls = await store.rollsOfShoot(shootId);
      const progress = await store.shootProgress(shootId);
      const plan = await store.proxyPlan(shootId);
      return {
        name: (await store.shoot(shootId))?.name ?? shootId,
        clips: await clipsOfRolls(store, rolls),
        factsState: factsState(rolls),
        recordsState: recordsState(rolls, progress),
        grouping: await store.grouping(shootId),
        planState: planState(progress),
        proxyPlan: plan,
        renderings: await renderingsOf(plan, shootId),
        acknowledgements: await store.acknowledgements(shootId),
      };
    },
    async places(shootId) {
      const rolls = await store.rollsOfShoot(shootId);
      const places: ShootPlace[] = [];
      const there = (await book.find()).filter(({ failure }) => failure === null);
      const roots = new Map(there.map(({ destination: { name, root } }) => [name, root]));
      const guests = await guestResults(shootId, roots);
      for (const { destination } of there) {
        const paths = await provenPaths(destination.root, rolls);
        if (paths.size === 0) continue;
        const proxies = await filedProxies(store, shootId, destination.name);
        places.push({ destination: destination.name, paths, proxies, guests: guests.get(destination.name) ?? [] });
      }
      return places;
    },
    measuredProxies: () => readMeasuredProxies(configuration.data),
    roomForProxies: () => findRoomForProxies({ store, book, configuration }),
    async write(shootId, name, files) {
      const [found] = await book.find([name]);
      if (found === undefined || found.failure !== null) throw new QuaysideError(found?.failure ?? unknown(name));
      const at = { root: found.destination.root, shootId };
      await writeRecords(at.root, recordsFolder(at.root, shootId), files);
      for (const roll of await store.rollsOfShoot(shootId)) {
        const facts = await currentFacts(store, roll);
        if (facts.length > 0) await writeFacts(at, roll.id, facts);
      }
      const seen = Object.values(await store.acknowledgements(shootId));
      if (seen.length > 0) await writeAcknowledgements(at, seen);
    },
  };
}

/** Where the sealed files of the rolls lie below the shoot's folder, by clip id, as the roll records say. */
async function provenPaths(root: string, rolls: readonly Roll[]): Promise<ReadonlyMap<string, string>> {
  const paths = new Map<string, string>();
  for (const roll of rolls) {
    const record = await readRollRecord(root, { shootId: roll.shootId, rollId: roll.id });
    if (record === null || record === 'damaged') continue;
    for (const file of record.files)
      paths.set(`${roll.id}/${file.path}`, `${roll.recorder}/${roll.id}/${file.storedPath}`);
  }
  return paths;
}

function unknown(name: string): ConstructorParameters<typeof QuaysideError>[0] {
  return {
    code: 'DESTINATION_UNKNOWN',
    sentence: `Destination ${name} is not in the configuration.`,
    retry: 'never',
  };
}
