import { randomUUID } from 'node:crypto';
import { lstatSync, mkdirSync, readdirSync } from 'node:fs';
import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import type { Guest } from './start-guest.ts';

/** The two empty folders of a run, in the one folder that its process can write. */
export interface RunFolders {
  readonly folder: string;
  readonly scratchFolder: string;
  readonly outputFolder: string;
}

const untouched = new WeakMap<Guest, RunFolders>();

/**
 * Folders for the next run of a process: those of the run before when it left them as they were. These few calls go to the
 * host's own work folder and take microseconds; handed to the pool of threads they would take most of a short run's time.
 */
export function foldersFor(guest: Guest): RunFolders {
  const kept = untouched.get(guest);
  untouched.delete(guest);
  if (kept !== undefined) return kept;
  const folder = join(guest.workFolder, randomUUID());
  const folders = { folder, scratchFolder: join(folder, 'scratch'), outputFolder: join(folder, 'output') };
  mkdirSync(folders.scratchFolder, { recursive: true });
  mkdirSync(folders.outputFolder);
  return folders;
}

/** Puts the folders of a run that is over aside for the next one, or deletes them when anything was changed in them. */
export async function clearFolders(guest: Guest, folders: RunFolders): Promise<void> {
  const { folder, scratchFolder, outputFolder } = folders;
  if (isEmptyFolder(scratchFolder) && isEmptyFolder(outputFolder)) untouched.set(guest, folders);
  else await rm(folder, { recursive: true, force: true });
}

/** Whether this is a folder, and no link to one, with nothing in it. */
export function isEmptyFolder(path: string): boolean {
  const status = lstatSync(path, { throwIfNoEntry: false });
  return status?.isDirectory() === true && readdirSync(path).length === 0;
}
