import { createHash } from 'node:crypto';
import { applyRollEvent } from '@quayside/job-queue';
import { fingerprintOf, openRollLedger } from '@quayside/media-files';
import { matchRoll, planParcels } from '@quayside/pipeline';
import {
  type Failure,
  type FileEntry,
  isClockUnset,
  type Mount,
  type Roll,
  type Volume,
  type VolumeListing,
} from '@quayside/shoot';
import type { IntakeParts } from './intake-parts.ts';
import { chooseShoot } from './choose-shoot.ts';
import { chooseDestinations } from './choose-destinations.ts';
import { findingsOfListing } from './findings-of-listing.ts';
import { knownRolls, type RememberedRoll } from './known-rolls.ts';
import { ledgerHeader } from '../records/ledger-header.ts';

type Claimed = Volume & { readonly mount: Mount; readonly recorder: string };

/**
 * Takes a settled volume in: finds the roll it goes on with or opens a new one, decides which destinations take it, plans
 * its parcels, and writes the roll's first line into every ledger before a byte is copied.
 */
export async function takeIn(parts: IntakeParts, volumeKey: string, fingerprint: string): Promise<string | null> {
  const volume = await parts.store.volume(volumeKey);
  const listing = await parts.store.listing(volumeKey);
  if (volume === null || listing === null || !isClaimed(volume)) return null;
  if (fingerprintOf(listing) !== fingerprint || listing.files.length === 0) return null;
  const known = await knownRolls(parts, volume.identity);
  const matched = known.find((roll) => roll.id === matchRoll(listing.files, known)) ?? null;
  const current = matched === null ? null : await parts.store.roll(matched.id);
  const now = new Date().toISOString();
  if (current !== null && isKnownContent(parts, { current, fingerprint, volume, files: listing.files })) {
    // One that is mounted and answers nothing can still be listed, from memory: it has not come back.
    if (current.mount === null && !(await parts.isAnswering(volume.mount, new AbortController().signal))) return null;
    const event = isAtSameMount(current, volume.mount)
      ? ({ type: 'recheckRequested' } as const)
      : ({ type: 'volumeReturned', mount: volume.mount } as const);
    await applyRollEvent(parts, current.id, { event, now });
    await parts.store.noteRollOfVolume(volume.identity.key, current.id);
    return current.id;
  }
  return openVisit(parts, { volume, listing, fingerprint, matched, current });
}

interface Known {
  readonly current: Roll;
  readonly fingerprint: string;
  readonly volume: Claimed;
  readonly files: readonly FileEntry[];
}

/**
 * Whether the roll has nothing to take in anew: the same listing, for the same recorder and the destinations of today. Where
 * a recorder's clock was never set, equal times prove nothing, and the files are read again.
 */
function isKnownContent({ book }: IntakeParts, { current, fingerprint, volume, files }: Known): boolean {
  const isForTheseDestinations =
    [...book.names()].toSorted().join() === Object.keys(current.destinations).toSorted().join();
  const hasUnsetClock = files.some((file) => isClockUnset(file.modifiedMs));
  return (
    current.fingerprint === fingerprint &&
    current.recorder === volume.recorder &&
    isForTheseDestinations &&
    !hasUnsetClock
  );
}

interface Visit {
  readonly volume: Claimed;
  readonly listing: VolumeListing;
  readonly fingerprint: string;
  readonly matched: RememberedRoll | null;
  readonly current: Roll | null;
}

async function openVisit(parts: IntakeParts, visit: Visit): Promise<string> {
  const { volume, listing, fingerprint, matched, current } = visit;
  const { configuration, store } = parts;
  const now = new Date().toISOString();
  const shootId = matched?.shootId ?? (await chooseShoot(parts, { volume, files: listing.files, now }));
  const id = matched?.id ?? newRollId(volume, shootId, fingerprint);
  const parcels = planParcels(listing.files);
  const destinations = await chooseDestinations(parts, { rollId: id, shootId, files: listing.files });
  const roll = {
    id,
    shootId,
    recorder: matched?.recorder ?? volume.recorder,
    role: configuration.recorders[matched?.recorder ?? volume.recorder]?.role ?? ('camera' as const),
    volume: volume.identity,
    mount: volume.mount,
    fingerprint,
    litterCount: listing.litterCount,
    repairLimit: configuration.verify.repairs,
    facts: configuration.order === 'plain' ? ('partly' as const) : ('due' as const),
    parcels: parcels.map(summarise),
    destinations: failuresByName(destinations),
    findings: findingsOfListing({ rollId: id, volume, listing, destinations, now }),
  };
  const visitNumber = (current?.visit ?? 0) + 1;
  await store.saveParcels(id, visitNumber, parcels);
  for (const { destination, failure } of destinations) {
    if (failure === null) await openRollLedger(destination.root, id, ledgerHeader(roll, matched?.openedAt ?? now));
  }
  await applyRollEvent(parts, id, { event: { type: 'listed', roll }, now });
  await store.noteRollOfVolume(volume.identity.key, id);
  return id;
}

function isClaimed(volume: Volume): volume is Claimed {
  return volume.mount !== null && volume.recorder !== null;
}

function isAtSameMount(roll: Roll, mount: Mount): boolean {
  return (
    roll.mount !== null &&
    roll.mount.path === mount.path &&
    roll.mount.mountId === mount.mountId &&
    roll.mount.device === mount.device
  );
}

/** Recorder, day, and six characters that tell it from the recorder's other rolls of that day. */
function newRollId(volume: Claimed, shootId: string, fingerprint: string): string {
  const digest = createHash('sha256').update(`${volume.identity.key}\n${fingerprint}`).digest('hex').slice(0, 6);
  const day = /\d{4}-\d{2}-\d{2}/.exec(shootId)?.[0] ?? new Date().toISOString().slice(0, 10);
  return `${volume.recorder.slice(0, 40)}-${day.replaceAll('-', '')}-${digest}`;
}

function summarise(files: readonly FileEntry[]): { firstPath: string; fileCount: number; sizeInBytes: number } {
  return {
    firstPath: files[0]?.path ?? '',
    fileCount: files.length,
    sizeInBytes: files.reduce((sum, file) => sum + file.sizeInBytes, 0),
  };
}

function failuresByName(
  destinations: readonly { readonly destination: { readonly name: string }; readonly failure: Failure | null }[],
): Record<string, Failure | null> {
  return Object.fromEntries(destinations.map(({ destination, failure }) => [destination.name, failure]));
}
