import type { Stats } from 'node:fs';
import { join } from 'node:path';
import { readHistory, type History } from '@quayside/hash-lists';
import { answerInTime, findDestinationAway, listVolume, lookAtFiles } from '@quayside/media-files';
import type { DestinationEvidence, Evidence, ProvenCopy, VolumeEvidence } from '@quayside/pipeline';
import { failureOf, rollFolder, type FileEntry, type Mount, type Roll } from '@quayside/shoot';
import { devicesOf, distinctDevices, isStillMounted, neighboursOf, partMounted } from '@quayside/volumes';
import type { Found } from '../destinations/destination-book.ts';
import { storedAt } from '../records/stored-at.ts';
import { manifestAgrees } from '../records/manifest-agrees.ts';
import { readRollRecord, type RollRecord } from '../records/roll-record.ts';

export interface EvidenceParts {
  readonly found: readonly Found[];
  readonly litter: readonly string[];
  /** What the drive held when it was judged clear, for a roll that is judged again without it; null for any other. */
  readonly filesWhenClear: readonly FileEntry[] | null;
}

/**
 * Looks at the media as they are now: lists the volume again, reads each destination's hash-list history and the roll's
 * record, and looks for every stored file. Nothing of it comes from Redis but who the roll is.
 */
export async function gatherEvidence(roll: Roll, { found, litter, filesWhenClear }: EvidenceParts): Promise<Evidence> {
  const looked = await Promise.all(found.map((one) => lookAtDestination(roll, one)));
  const destinations = await withDeviceGroups(looked, await disksOfDrive(roll));
  // Last, because looking at large destinations takes a while: the listing is of the moment of the verdict.
  const isJudgedWithoutDrive = roll.mount === null && filesWhenClear !== null;
  return { volume: isJudgedWithoutDrive ? asItWas(filesWhenClear) : await listAgain(roll.mount, litter), destinations };
}

function asItWas(files: readonly FileEntry[]): VolumeEvidence {
  const listing = { files: [...files], specials: [], unreadable: [], litterCount: 0 };
  return { state: 'listed', listing, neighbours: [] };
}

/** A marked plain folder, which is no drive. */
function isFolder({ mountId }: Mount): boolean {
  return mountId.startsWith('folder:');
}

async function listAgain(mount: Mount | null, litter: readonly string[]): Promise<VolumeEvidence> {
  if (mount === null) return { state: 'away', why: 'it is not connected' };
  try {
    if (!(await isStillMounted(mount))) return { state: 'away', why: `another file system lies at ${mount.path}` };
    const part = await partMounted(mount);
    if (part !== null) return { state: 'unreadable', why: `only its folder ${part} is mounted` };
    const listing = await listVolume(mount.path, { litter });
    // Looked at again afterwards: a drive pulled during the listing lists as empty or short.
    if (!(await isStillMounted(mount))) return { state: 'away', why: 'it left while it was listed' };
    return { state: 'listed', listing, neighbours: isFolder(mount) ? [] : await neighboursOf(mount) };
  } catch (error) {
    return { state: 'unreadable', why: error instanceof Error ? error.message : String(error) };
  }
}

type Looked = DestinationEvidence & { readonly root: string; readonly rollRoot: string };

/** For thousands of files on a slow disk. */
const LOOK_WITHIN_MS = 120_000;

async function lookAtDestination(roll: Roll, one: Found): Promise<Looked> {
  const { name, root } = one.destination;
  try {
    return await answerInTime(one.destination, () => lookNow(roll, one), LOOK_WITHIN_MS);
  } catch (error) {
    const { code, sentence } = failureOf(error);
    if (code !== 'DESTINATION_SILENT') throw error;
    return { name, root, rollRoot: root, state: 'away', why: sentence };
  }
}

async function lookNow(roll: Roll, { destination, failure }: Found): Promise<Looked> {
  const { name, root } = destination;
  const rollRoot = join(root, rollFolder(roll));
  const at = { name, root, rollRoot };
  if (failure !== null) return { ...at, state: 'away', why: failure.sentence };
  const standing = roll.destinations[name];
  if (standing === undefined)
    return { ...at, state: 'skipped', why: 'it was not configured when the roll came. Connect the drive again.' };
  if (standing.standing === 'skipped')
    return { ...at, state: 'skipped', why: standing.failure?.sentence ?? 'no reason is on record. Retry the roll.' };
  const record = await readRollRecord(root, { shootId: roll.shootId, rollId: roll.id });
  if (record === null)
    return {
      ...at,
      state: 'unsealed',
      why: standing.failure?.sentence ?? 'its copies are not all proven. Look at the findings, then retry the roll.',
    };
  if (record === 'damaged') return { ...at, state: 'damaged', why: 'the roll record cannot be read. Retry the roll.' };
  const history = await readHistory(rollRoot);
  const [fault] = history.faults;
  if (fault !== undefined) return { ...at, state: 'damaged', why: fault.sentence };
  const copies = await provenCopies(rollRoot, record, history);
  // Looked for again afterwards: one that was unmounted meanwhile looks as if its copies were gone.
  const left = await findDestinationAway(destination);
  return left === null
    ? { ...at, state: 'sealed', device: 'unknown', copies, bad: foundBad(record, history) }
    : { ...at, state: 'away', why: left.sentence };
}

async function provenCopies(
  rollRoot: string,
  record: RollRecord,
  history: History,
): Promise<ReadonlyMap<string, ProvenCopy>> {
  const files = record.files.filter((file) => manifestAgrees(file, history));
  const found = await lookAtFiles(files.map(({ storedPath }) => storedAt(rollRoot, storedPath)));
  return new Map(
    files.map((file, index) => {
      const { path, sizeInBytes, modifiedMs, method, storedPath } = file;
      return [path, { sizeInBytes, modifiedMs, method, storedPath, isPresent: isAsSealed(file, found[index]) }];
    }),
  );
}

function foundBad({ files }: RollRecord, history: History): readonly string[] {
  return files.filter(({ storedPath }) => history.files.get(storedPath)?.failed === true).map(({ path }) => path);
}

function isAsSealed(file: RollRecord['files'][number], found: Stats | Error | undefined): boolean {
  if (found === undefined || found instanceof Error) return false;
  return (
    found.isFile() &&
    found.size === file.sizeInBytes &&
    found.mtimeMs === file.storedTimes.modifiedMs &&
    found.ctimeMs === file.storedTimes.changedMs
  );
}

/** The disks that the roll's drive is: who records over it may lose all that is on them. A marked plain folder is none. */
async function disksOfDrive({ mount, volume }: Roll): Promise<readonly string[]> {
  if (mount === null || volume.basis === 'folder') return [];
  // One that left is told by the listing.
  return devicesOf(mount.path).then(
    ({ devices }) => devices,
    () => [],
  );
}

/** By the roll's own folder: what is mounted below a destination's root is another device than the root. */
async function withDeviceGroups(
  looked: readonly Looked[],
  ofDrive: readonly string[],
): Promise<readonly DestinationEvidence[]> {
  const sealed = looked.filter((destination) => destination.state === 'sealed');
  const devices = await Promise.all(
    sealed.map(async ({ name, root, rollRoot }) => ({
      name,
      // Without its folder the roll has no copies there, which is told of each.
      ...(await devicesOf(rollRoot).catch(() => devicesOf(root))),
    })),
  );
  const onDrive = new Set(
    devices.filter((place) => place.devices.some((disk) => ofDrive.includes(disk))).map(({ name }) => name),
  );
  const { groups, uncounted } = distinctDevices(devices);
  return looked.map(({ root: _root, rollRoot: _rollRoot, ...evidence }): DestinationEvidence => {
    if (evidence.state !== 'sealed') return evidence;
    if (onDrive.has(evidence.name)) return { ...evidence, device: 'drive' };
    const group = groups.findIndex((names) => names.includes(evidence.name));
    const why = uncounted.find(({ name }) => name === evidence.name)?.why ?? 'unknown';
    return { ...evidence, device: group === -1 ? why : group };
  });
}
