import { link, lstat, open, readdir, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { QuaysideError } from '@quayside/shoot';
import { STAGED_CHAIN_NAME } from './load-chain.ts';
import { CHAIN_NAME } from './manifest.ts';
import { errorCode } from './refusals.ts';

/**
 * Puts a manifest in place: staged, synced, named, folder synced. What already has the name is never overwritten.
 * @throws QuaysideError `MANIFEST_TAKEN`
 */
export async function publishManifest(folder: string, name: string, bytes: Uint8Array): Promise<void> {
  const staged = join(folder, `.${name}.part`);
  await writeSynced(staged, bytes);
  try {
    await nameWithoutOverwriting(staged, join(folder, name));
  } finally {
    await rm(staged, { force: true });
  }
  await syncFolder(folder);
}

/** Replaces the chain: staged, synced, renamed over the old one, folder synced. */
export async function replaceChain(folder: string, bytes: Uint8Array): Promise<void> {
  const staged = join(folder, STAGED_CHAIN_NAME);
  await writeSynced(staged, bytes);
  await rename(staged, join(folder, CHAIN_NAME));
  await syncFolder(folder);
}

/** Removes what interrupted writes staged: it never counted. The chain's staged copy stays, for it may be the only one. */
export async function removeStagedManifests(folder: string): Promise<void> {
  const names = await readdir(folder).catch((error: unknown) => {
    if (errorCode(error) === 'ENOENT') return [];
    throw error;
  });
  for (const name of names) {
    if (/^\.\d{4,}_.*\.mhl\.part$/s.test(name)) await rm(join(folder, name), { force: true });
  }
}

/** Makes names in a folder durable, where the file system knows how. */
export async function syncFolder(folder: string): Promise<void> {
  await using handle = await open(folder, 'r');
  await handle.sync().catch((error: unknown) => {
    if (!CANNOT_SYNC_FOLDERS.has(errorCode(error))) throw error;
  });
}

async function writeSynced(path: string, bytes: Uint8Array): Promise<void> {
  const file = await open(path, 'w');
  try {
    await file.writeFile(bytes);
    await file.sync();
  } finally {
    await file.close();
  }
}

/**
 * A link fails when the name is taken, a rename would replace it. FAT and exFAT have no links: there we look first. (Linux
 * reports a taken name before it asks the file system for a link; other systems need not.)
 */
async function nameWithoutOverwriting(staged: string, path: string): Promise<void> {
  try {
    await link(staged, path);
  } catch (error) {
    if (errorCode(error) === 'EEXIST') throw taken(path);
    if (!HAS_NO_LINKS.has(errorCode(error))) throw error;
    if (await exists(path)) throw taken(path);
    await rename(staged, path);
  }
}

async function exists(path: string): Promise<boolean> {
  try {
    await lstat(path);
    return true;
  } catch (error) {
    if (errorCode(error) === 'ENOENT') return false;
    throw error;
  }
}

function taken(path: string): QuaysideError {
  return new QuaysideError({
    code: 'MANIFEST_TAKEN',
    sentence: `A manifest named "${path}" is there already, with other content or damaged. Move it out of the folder, then try again.`,
    retry: 'never',
  });
}

const CANNOT_SYNC_FOLDERS = new Set(['EINVAL', 'EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'EISDIR', 'EBADF', 'ENOSYS']);
const HAS_NO_LINKS = new Set(['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EMLINK', 'EACCES']);
