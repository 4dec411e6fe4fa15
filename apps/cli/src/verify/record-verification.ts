import { hostname } from 'node:os';
import { access, constants } from 'node:fs/promises';
import { basename, dirname, join, relative } from 'node:path';
import { actionsFor, isRecordablePath, type NewFile, type NewHash, writeGeneration } from '@quayside/hash-lists';
import { type Damage, noteDamage, readDestinationMarker, setCopyAside } from '@quayside/media-files';
import { failureOf, HashAlgorithm, VERSION } from '@quayside/shoot';
import type { HashedFile, Verification } from './verify-folder.ts';

export type Recording =
  | {
      readonly state: 'recorded';
      readonly generation: number;
      readonly manifestPath: string;
      readonly isNew: boolean;
      /** Where the damaged copies are now. */
      readonly setAside: readonly string[];
    }
  | { readonly state: 'not-recorded'; readonly why: string; readonly isFailure: boolean };

/**
 * Adds what was found as a generation to the folder's manifests, damage included. Damaged copies are set aside, which frees
 * their names for those that replace them, and the roll's ledger is told, or the service would go on taking them for proven.
 * It writes only below a destination's marker: a folder anywhere
 * else may be a drive that a recorder needs back untouched.
 */
export async function recordVerification(verification: Verification): Promise<Recording> {
  const { root, startedAt, history } = verification;
  const destination = await destinationAbove(root);
  if (destination === null) {
    return notRecorded('the folder does not lie at a destination of Quayside, so nothing is written there');
  }
  if (!(await isWritable(root))) return notRecorded('the folder is read-only');
  const files = verification.hashed.flatMap((file) => newFile(verification, file));
  const complete = files.length === verification.hashed.length && verification.unreadable.length === 0;
  try {
    await noteDamage(destination, basename(root), { damage: damageIn(verification), at: startedAt });
    const setAside = await setDamagedAside(verification, destination);
    const creator = { hostname: hostname(), tool: 'Quayside', toolVersion: VERSION };
    const written = await writeGeneration(root, {
      startedAt,
      process: 'in-place',
      creator,
      ignore: history.ignore,
      files,
      complete,
    });
    return {
      state: 'recorded',
      generation: written.generation,
      manifestPath: written.manifestPath,
      isNew: written.isNew,
      setAside,
    };
  } catch (error) {
    return { state: 'not-recorded', why: failureOf(error).sentence, isFailure: true };
  }
}

function newFile({ history }: Verification, { path, sizeInBytes, modifiedMs, digests }: HashedFile): NewFile[] {
  const recorded = history.files.get(path);
  const isComparable =
    recorded === undefined || [...recorded.hashes.values()].some(({ action }) => action !== 'failed');
  if (!isRecordablePath(path) || !isComparable) return [];
  const actions = actionsFor(history, path, digests);
  const hashes = HashAlgorithm.options.flatMap((algorithm): NewHash[] => {
    const [value, action] = [digests[algorithm], actions[algorithm]];
    return value === undefined || action === undefined ? [] : [{ algorithm, value, action }];
  });
  return [{ path, sizeInBytes, modifiedMs, hashes }];
}

/** The root of the destination that a folder lies at, or null. */
async function destinationAbove(folder: string): Promise<string | null> {
  const above = dirname(folder);
  if (above === folder) return null;
  return (await readDestinationMarker(above)) === null ? destinationAbove(above) : above;
}

async function setDamagedAside({ root, verdicts }: Verification, destination: string): Promise<readonly string[]> {
  const places: string[] = [];
  for (const { path, verdict } of verdicts) {
    if (verdict !== 'failed') continue;
    const roll = { rollId: basename(root), rollFolder: relative(destination, root) };
    // One that cannot be moved is told as damaged all the same, and a new copy takes another name.
    const place = await setCopyAside({ root: destination, ...roll, storedPath: path }).catch(() => null);
    if (place !== null) places.push(join(destination, place));
  }
  return places;
}

function damageIn({ verdicts, hashed }: Verification): readonly Damage[] {
  const read = new Map(hashed.map((file) => [file.path, file]));
  return verdicts.flatMap((verdict): Damage[] => {
    if (verdict.verdict !== 'failed' && verdict.verdict !== 'missing') return [];
    const file = read.get(verdict.path);
    const { sizeInBytes = 0, modifiedMs = 0, digests = {} } = file ?? {};
    const found = file === undefined ? null : { sizeInBytes, modifiedMs, digests };
    return [{ storedPath: verdict.path, failure: DAMAGE[verdict.verdict], found }];
  });
}

const DAMAGE = {
  failed: {
    code: 'COPY_DAMAGED',
    sentence: 'The copy was read again and is no longer what was proven. Retry the roll, so that it is copied anew.',
  },
  missing: {
    code: 'COPY_MISSING',
    sentence: 'The copy that was proven is gone. Retry the roll, so that it is copied anew.',
  },
} as const;

async function isWritable(folder: string): Promise<boolean> {
  return access(folder, constants.W_OK).then(
    () => true,
    () => false,
  );
}

function notRecorded(why: string): Recording {
  return { state: 'not-recorded', why, isFailure: false };
}
