import { setTimeout as wait } from 'node:timers/promises';
import type { Configuration } from '@quayside/configuration';
import { applyRollEvent, askForWork, letRollsSleep, type RunQueue, type Store } from '@quayside/job-queue';
import { freeBytes, interruptedBytes } from '@quayside/media-files';
import { canBeJudged, copiesToTryAgain, destinationsWaitedFor, reserveSpace, type RollEvent } from '@quayside/pipeline';
import type { Roll } from '@quayside/shoot';
import type { DestinationBook } from '../destinations/destination-book.ts';
import { announcePlanning } from '../shoots/planning.ts';
import { rebuildView } from '../records/rebuild-view.ts';
import { type Told, tellCompleteShoots } from '../shoots/tell-complete.ts';
import { RetryClock } from './retry-clock.ts';
import { spaceAt, SpaceWatch } from './space-watch.ts';

export interface UpkeepParts {
  readonly store: Store;
  readonly queue: RunQueue;
  readonly book: DestinationBook;
  readonly configuration: Configuration;
  readonly log: (sentence: string, about?: object) => void;
}

type Keeping = UpkeepParts & { readonly retryClock: RetryClock; readonly spaceWatch: SpaceWatch; readonly told: Told };

const BEAT_MS = 2000;
const ASK_EVERY_BEATS = 5;
const RECHECK_EVERY_BEATS = 30;

/**
 * The worker's steady duties until the signal aborts: show that it lives, ask again for work that a crash or a lost queue
 * swallowed, notice destinations that are back, and judge the drives that are connected and at rest again each minute.
 */
export async function keepUp(given: UpkeepParts, signal: AbortSignal): Promise<void> {
  const spaceWatch = new SpaceWatch(given.configuration.messages.lowSpacePercent);
  const parts: Keeping = { ...given, retryClock: new RetryClock(), spaceWatch, told: new Set() };
  for (let beat = 0; !signal.aborted; beat += 1) {
    try {
      if (beat % ASK_EVERY_BEATS === 0) await lookAfterRolls(parts, beat % RECHECK_EVERY_BEATS === 0);
    } catch (error) {
      parts.log('The round of upkeep could not be finished; the next one tries again.', { error: String(error) });
    }
    await wait(BEAT_MS, undefined, { signal }).catch(() => {});
  }
}

async function lookAfterRolls(parts: Keeping, isRecheckDue: boolean): Promise<void> {
  if (!(await parts.store.isWhole())) {
    const count = await rebuildView(parts, new Date().toISOString());
    parts.log(`The view in Redis was new or lost; ${count} rolls were read again from the records beside the footage.`);
  }
  await announcePlanning(parts, parts.configuration);
  await askForWork(parts);
  await letRollsSleep(parts.store);
  await tellCompleteShoots(parts.store, parts.told, new Date().toISOString());
  if (isRecheckDue) await watchSpace(parts);
  for (const roll of await parts.store.awakeRolls()) {
    if (wantsLookingAfter(roll)) await lookAfter(parts, roll.id, isRecheckDue);
  }
}

async function watchSpace({ book, spaceWatch, store }: Keeping): Promise<void> {
  for (const { destination, failure } of await book.look()) {
    if (failure !== null) continue;
    const { freeBytes: free, sizeInBytes } = await spaceAt(destination.root);
    const kept = book.configured(destination.name)?.keepFreeBytes ?? 0;
    const space = { name: destination.name, freeBytes: free - kept, sizeInBytes };
    const news = spaceWatch.look(space, new Date().toISOString());
    if (news !== null) await store.publish([news]);
  }
}

/** Few of those that are awake do: those that can be judged, that wait for a destination, or that are tried again. */
function wantsLookingAfter(roll: Roll): boolean {
  return canBeJudged(roll) || destinationsWaitedFor(roll).length > 0 || copiesToTryAgain(roll).length > 0;
}

async function lookAfter(parts: Keeping, id: string, isRecheckDue: boolean): Promise<void> {
  const apply = (event: RollEvent): Promise<Roll> =>
    applyRollEvent(parts, id, { event, now: new Date().toISOString() });
  // Read anew for each: room that one roll was promised is no longer there for the next.
  const rolls = await parts.store.awakeRolls();
  const roll = rolls.find((one) => one.id === id);
  if (roll === undefined) return;
  if (parts.retryClock.isDue(roll, performance.now())) await apply({ type: 'retryDue' });
  for (const destination of await returnedDestinations(parts, roll, rolls)) {
    await apply({ type: 'destinationReturned', destination });
  }
  if (isRecheckDue) await apply({ type: 'recheckRequested' });
}

/** Destinations that something of this roll waits for and that are there again, with room for it. */
async function returnedDestinations(
  { book }: UpkeepParts,
  roll: Roll,
  rolls: readonly Roll[],
): Promise<readonly string[]> {
  const waiting = destinationsWaitedFor(roll);
  if (waiting.length === 0) return [];
  const others = rolls.filter((other) => other.id !== roll.id);
  const returned: string[] = [];
  for (const { destination, failure } of await book.find(waiting)) {
    if (failure !== null) continue;
    const keepFreeBytes = book.configured(destination.name)?.keepFreeBytes ?? 0;
    const space = { destination: destination.name, freeBytes: await freeBytes(destination.root), keepFreeBytes };
    const wanting = bytesWanting(roll, destination.name) - (await interruptedBytes(destination.root, roll.id));
    if (reserveSpace(Math.max(wanting, 0), space, others) === null) returned.push(destination.name);
  }
  return returned;
}

function bytesWanting(roll: Roll, name: string): number {
  return roll.parcels.reduce(
    (sum, parcel) => (parcel.copies[name]?.state === 'verified' ? sum : sum + parcel.sizeInBytes),
    0,
  );
}
