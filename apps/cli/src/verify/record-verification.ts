import { hostname } from 'node:os';
import { access, constants } from 'node:fs/promises';
import { basename, dirname } from 'node:path';
import { VERSION } from '@quayside/admin-api';
import { actionsFor, isRecordablePath, type NewFile, type NewHash, writeGeneration } from '@quayside/hash-lists';
import { type Damage, noteDamage, readDestinationMarker } from '@quayside/media-files';
import { failureOf, HashAlgorithm } from '@quayside/shoot';
import type { HashedFile, Verification } from './verify-folder.ts';

export type Recording =
  | { readonly state: 'recorded'; readonly generation: number; readonly manifestPath: string; readonly isNew: boolean }
  | { readonly state: 'not-recorded'; readonly why: string; readonly isFailure: boolean };

/**
 * Adds what was found as a generation to the folder's manifests, damage included; damage goes into the roll's ledger too,
 * or the service would go on taking those copies for proven. It writes only below a destination's marker: a folder anywhere
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

function damageIn({ verdicts }: Verification): readonly Damage[] {
  return verdicts.flatMap((verdict) =>
    verdict.verdict === 'failed' || verdict.verdict === 'missing'
      ? [{ storedPath: verdict.path, failure: DAMAGE[verdict.verdict] }]
      : [],
  );
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
