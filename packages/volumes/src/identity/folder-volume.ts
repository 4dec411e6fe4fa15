import { randomUUID } from 'node:crypto';
import { constants } from 'node:fs';
import { type FileHandle, open, readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { type Failure, type Mount, QuaysideError, type VolumeIdentity } from '@quayside/shoot';
import { deviceNumber } from '../mounts/device-number.ts';
import { keyFrom } from './identity-key.ts';

/** The file that makes a plain folder a volume. It is ours, not footage, so listings should leave it out. */
export const folderVolumeMarker = 'quayside-volume.json';

/** A folder that stands for a volume. */
export interface FolderVolume {
  readonly identity: VolumeIdentity;
  readonly mount: Mount;
}

/**
 * Makes a folder a volume for demos and tests. Never for footage: it is the one thing here that writes. Throws
 * `VOLUME_MARKER_NOT_WRITTEN` when the folder already is one or cannot be written.
 */
export async function writeFolderVolumeMarker(
  folder: string,
  options: { readonly label: string },
): Promise<VolumeIdentity> {
  const marker = { format: 1, id: randomUUID(), label: options.label } as const;
  const path = join(folder, folderVolumeMarker);
  try {
    const file = await open(path, 'wx');
    try {
      await file.writeFile(`${JSON.stringify(marker)}\n`);
    } finally {
      await file.close();
    }
  } catch (error) {
    const sentence = `The folder ${folder} could not be made a volume: ${path} exists already or cannot be written. Choose another folder.`;
    throw new QuaysideError({ code: 'VOLUME_MARKER_NOT_WRITTEN', sentence, retry: 'never' }, { cause: error });
  }
  return identityOf(marker);
}

/**
 * The folder volumes directly below a root. A folder without the marker is none, and one in `mounted` is left alone: the volume
 * on it counts, and a dead drive under it must not hold us up. A marker that cannot be understood is told, not passed over.
 */
export async function findFolderVolumes(
  root: string,
  options: { readonly mounted: ReadonlySet<string>; readonly onTrouble: (failure: Failure) => void },
): Promise<readonly FolderVolume[]> {
  const folders = (await listFolders(root)).filter((folder) => !options.mounted.has(folder));
  const found = await Promise.all(
    folders.map(async (folder) => {
      try {
        return await readFolderVolume(folder);
      } catch (error) {
        const why = error instanceof Error ? error.message : String(error);
        const sentence = `The folder ${folder} is not used as a volume: its ${folderVolumeMarker} is not readable (${why}). Write it anew or remove it.`;
        options.onTrouble({ code: 'VOLUME_MARKER_UNREADABLE', sentence, retry: 'never' });
        return null;
      }
    }),
  );
  return found.filter((volume) => volume !== null);
}

async function listFolders(root: string): Promise<readonly string[]> {
  try {
    const entries = await readdir(root, { withFileTypes: true });
    return entries
      .filter((entry) => entry.isDirectory())
      .map((entry) => join(root, entry.name))
      .toSorted();
  } catch (error) {
    // A root that is not there yet is nothing wrong; it is looked for again next time.
    if (hasCode(error, 'ENOENT', 'ENOTDIR')) return [];
    const sentence = `The folder ${root} could not be listed, so volumes in it cannot be seen. Check its rights and its drive.`;
    throw new QuaysideError({ code: 'ROOT_UNREADABLE', sentence, retry: 'later' }, { cause: error });
  }
}

async function readFolderVolume(folder: string): Promise<FolderVolume | null> {
  const directory = await openIfThere(folder, constants.O_RDONLY | constants.O_DIRECTORY | constants.O_NOFOLLOW);
  if (!directory) return null;
  try {
    const file = await openIfThere(join(folder, folderVolumeMarker), constants.O_RDONLY | constants.O_NOFOLLOW);
    if (!file) return null;
    try {
      const text = await file.readFile('utf8');
      // Just being written.
      if (text === '') return null;
      const { ino, dev } = await directory.stat({ bigint: true });
      const mount = { path: folder, mountId: `folder:${ino}`, device: deviceNumber(dev) };
      return { identity: identityOf(parseMarker(text)), mount };
    } finally {
      await file.close();
    }
  } finally {
    await directory.close();
  }
}

async function openIfThere(path: string, flags: number): Promise<FileHandle | null> {
  return open(path, flags).catch((error: unknown) => {
    if (hasCode(error, 'ENOENT', 'ENOTDIR')) return null;
    throw error;
  });
}

interface Marker {
  readonly id: string;
  readonly label: string;
}

function parseMarker(text: string): Marker {
  const value: unknown = JSON.parse(text);
  const { format, id, label } = typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {};
  if (format !== 1) throw new Error('its "format" is not 1');
  if (typeof id !== 'string' || id === '' || typeof label !== 'string')
    throw new Error('"id" and "label" must be text');
  return { id, label };
}

function identityOf({ id, label }: Marker): VolumeIdentity {
  const key = keyFrom(['folder', id, label]);
  return { key, basis: 'folder', uuid: id, serial: null, label, fileSystem: 'folder', sizeInBytes: 0 };
}

function hasCode(error: unknown, ...codes: readonly string[]): boolean {
  return error instanceof Error && 'code' in error && codes.includes(String(error.code));
}
