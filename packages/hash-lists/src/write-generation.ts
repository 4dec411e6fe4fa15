import { mkdir, rmdir } from 'node:fs/promises';
import { basename, join, resolve } from 'node:path';
import { QuaysideError } from '@quayside/shoot';
import { buildManifest } from './build-manifest.ts';
import { c4Of } from './c4.ts';
import { buildChain, type ChainEntry } from './chain.ts';
import { composeManifest } from './compose-manifest.ts';
import type { FaultCode, History } from './history.ts';
import { holdHistory } from './hold-history.ts';
import { growIgnore } from './ignore-patterns.ts';
import { rememberManifest } from './known-manifests.ts';
import { manifestName } from './manifest-name.ts';
import { HISTORY_FOLDER, type Manifest, MAX_XML_BYTES } from './manifest.ts';
import type { NewGeneration } from './new-generation.ts';
import { publishManifest, removeStagedManifests, replaceChain, syncFolder } from './publish-file.ts';
import { readHistory } from './read-history.ts';
import { readManifest } from './read-manifest.ts';
import { throwIfUnrecordable } from './recordable-path.ts';
import { errorCode, ioFailure, throwContent } from './refusals.ts';
import { saysNothingNew } from './same-operation.ts';

export interface WrittenGeneration {
  readonly generation: number;
  readonly manifestPath: string;
  readonly c4: string;
  /** False when the latest generation says the same already: nothing was written. */
  readonly isNew: boolean;
  /** Given files that the ignore patterns keep out of the record. */
  readonly leftOut: readonly string[];
}

/**
 * Adds a generation to the history of a folder, and makes it durable: when this resolves, manifest and chain are synced.
 * Calling it again for the same operation, or with the same content as the latest generation, writes nothing. Callers for
 * one folder, in other processes too, go one after the other. The folder itself must exist.
 *
 * States on the medium, each readable, and what the next call makes of it: a staged file (removed) · a manifest that is
 * whole but not in the chain (entered in the chain, then compared) · a staged chain and no chain (put in place).
 * @throws QuaysideError `MANIFEST_NAME`, `MANIFEST_CONTENT`: cannot be recorded. `MANIFEST_DAMAGED`: the history has
 * faults and is left as it is. `MANIFEST_TAKEN`: another file has the name. `MANIFEST_BUSY`: another writer does not end. `MANIFEST_READ`, `MANIFEST_WRITE`: I/O.
 */
export async function writeGeneration(rollRoot: string, generation: NewGeneration): Promise<WrittenGeneration> {
  const root = resolve(rollRoot);
  const folder = join(root, HISTORY_FOLDER);
  let isNewFolder = false;
  try {
    isNewFolder = await makeFolder(root, folder);
    return await holdHistory(folder, () => writeHeld(root, folder, generation));
  } catch (error) {
    // What was refused leaves nothing behind. A folder that another writer uses by now is not empty, and stays.
    if (isNewFolder) await rmdir(folder).catch(() => undefined);
    if (error instanceof QuaysideError) throw error;
    throw ioFailure('MANIFEST_WRITE', folder, error);
  }
}

async function writeHeld(root: string, folder: string, generation: NewGeneration): Promise<WrittenGeneration> {
  const history = await readHistory(root);
  throwIfDamaged(history, folder);
  const { manifest, leftOut } = await composeManifest(generation, growIgnore(history.ignore, generation.ignore));
  await finishInterruptedWrite(folder, history);
  const latest = history.generations.at(-1);
  if (latest?.manifest && saysNothingNew(latest.manifest, manifest, generation.countsAlone === true)) {
    return {
      generation: latest.number,
      manifestPath: join(folder, latest.name),
      c4: latest.c4,
      isNew: false,
      leftOut,
    };
  }

  const number = (latest?.number ?? 0) + 1;
  const name = manifestName(number, basename(root), generation.startedAt);
  throwIfUnrecordable(name);
  const bytes = buildManifest(manifest);
  if (bytes.length > MAX_XML_BYTES) throwContent(`it would have ${bytes.length} bytes, more than ${MAX_XML_BYTES}`);
  const entry: ChainEntry = { number, name, c4: c4Of(bytes) };
  await publishManifest(folder, name, bytes);
  await replaceChain(folder, buildChain([...history.generations, entry]));
  rememberWritten(entry.c4, manifest);
  return { generation: number, manifestPath: join(folder, name), c4: entry.c4, isNew: true, leftOut };
}

/** Records are read exactly as they were composed, as manifest-round-trip.test.ts holds; the head is not, so it is read. */
function rememberWritten(c4: string, manifest: Manifest): void {
  const head = readManifest(buildManifest({ ...manifest, files: [], folders: [] }));
  if (head.state !== 'read') return;
  rememberManifest(c4, { ...head.manifest, files: manifest.files, folders: manifest.folders });
}

/** A damaged history is evidence: adding to it would hide the damage behind a fresh chain. */
function throwIfDamaged(history: History, folder: string): void {
  const fault = history.faults.find(({ code }) => !WRITE_GOES_ON.has(code));
  if (fault === undefined) return;
  throw new QuaysideError({
    code: 'MANIFEST_DAMAGED',
    sentence: `Nothing was added to the hash history in "${folder}", because it is damaged. ${fault.sentence} Or rename the folder, keep it, and start a new history.`,
    retry: 'never',
  });
}

/** A manifest gets its name only when it is whole and synced, so one that the chain lacks records a finished operation. */
async function finishInterruptedWrite(folder: string, history: History): Promise<void> {
  await removeStagedManifests(folder);
  const isFinished = history.generations.every(({ isChained }) => isChained);
  const hasChain = history.faults.every(({ code }) => code !== 'CHAIN_UNFINISHED');
  if (!isFinished || !hasChain) await replaceChain(folder, buildChain(history.generations));
}

/** True when it was not there before. */
async function makeFolder(root: string, folder: string): Promise<boolean> {
  // Not recursive: a roll's folder that is gone means that the destination is.
  const isNew = await mkdir(folder).then(
    () => true,
    (error: unknown) => {
      if (errorCode(error) !== 'EEXIST') throw error;
      return false;
    },
  );
  // Also for a folder that was there: the write that made it may have been interrupted before this.
  await syncFolder(root);
  return isNew;
}

const WRITE_GOES_ON: ReadonlySet<FaultCode> = new Set(['MANIFEST_UNCHAINED', 'CHAIN_UNFINISHED', 'RECORD_REFUSED']);
