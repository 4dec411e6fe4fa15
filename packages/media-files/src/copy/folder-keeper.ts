import { readdir } from 'node:fs/promises';
import { QuaysideError } from '@quayside/shoot';
import { fileCalls, unlessCode } from '../direct-io/file-calls.ts';
import { syncFolder } from '../durable/sync-folder.ts';
import { baseNameOf, diskPath, folderOf } from '../names/disk-path.ts';
import { nameFromBytes } from '../names/name-bytes.ts';
import { numberedName } from '../names/numbered-name.ts';
import { forEachAtOnce } from '../workbench/for-each-at-once.ts';

/** The folders of one roll at one destination, for the length of a parcel. Paths are relative to the roll's folder. */
export interface FolderKeeper {
  /**
   * Makes sure that a folder is there, and gives the path it has: `name__2` where a file or a link has the name. A link is
   * never followed, so no write leaves the destination.
   */
  ensure(folder: string): Promise<string>;
  /** What `ensure` has given for this folder before; else null. */
  ensured(folder: string): string | null;
  /** The exact names in a folder, as the file system lists them. */
  namesIn(folder: string): Promise<ReadonlySet<string>>;
  /** What `namesIn` has given for this folder before; else null. */
  listed(folder: string): ReadonlySet<string> | null;
  /** Says that a name was added, so that the folder must be synced. */
  noteAdded(folder: string, name: string): void;
  /** Syncs every folder that got a new name. */
  sync(): Promise<void>;
}

const MOST_NUMBERS = 99;

export interface KeptRoot {
  readonly root: string;
  /** The device that it was on when it was last known to be the destination. */
  readonly device: number;
}

/** Where a destination was unmounted its path is an empty folder of another disk, and nothing may be made in that. */
async function throwIfRootLeft({ root, device }: KeptRoot): Promise<void> {
  if ((await fileCalls.stat(root)).dev === device) return;
  throw new QuaysideError({
    code: 'DESTINATION_NOT_MOUNTED',
    sentence: `The destination at ${root} was unmounted while it was written to. Nothing more is written there; connect it, and the work goes on by itself.`,
    retry: 'destination',
  });
}

/** `top` is the roll's folder, below the destination's root. */
export function createFolderKeeper({ root, device }: KeptRoot, top: string): FolderKeeper {
  const ensured = new Map<string, Promise<string>>();
  const ensuredAs = new Map<string, string>();
  const names = new Map<string, Promise<Set<string>>>();
  const listed = new Map<string, Set<string>>();
  const touched = new Set<string>();

  const ensureOnce = async (folder: string): Promise<string> => {
    if (folder === '') return '';
    const parent = await keeper.ensure(folderOf(folder));
    await throwIfRootLeft({ root, device });
    for (let number = 1; number <= MOST_NUMBERS; number += 1) {
      const path = join(parent, numberedName(baseNameOf(folder), number));
      if (await isFolderNow(diskPath(root, top, path), () => touched.add(join(top, parent)))) return path;
    }
    throw nameTaken(root, join(top, folder));
  };

  const ensureTop = async (): Promise<string> => {
    await throwIfRootLeft({ root, device });
    let path = '';
    for (const part of top.split('/')) {
      const parent = path;
      path = join(parent, part);
      if (!(await isFolderNow(diskPath(root, path), () => touched.add(parent)))) throw nameTaken(root, path);
    }
    return '';
  };

  const once = async (key: string, work: () => Promise<string>): Promise<string> => {
    const running = ensured.get(key) ?? work();
    ensured.set(key, running);
    const path = await running;
    ensuredAs.set(key, path);
    return path;
  };

  const keeper: FolderKeeper = {
    ensure: async (folder) => {
      await once('', ensureTop);
      return folder === '' ? '' : once(folder, () => ensureOnce(folder));
    },
    ensured: (folder) => ensuredAs.get(folder) ?? null,
    namesIn: async (folder) => {
      const listing = names.get(folder) ?? listNames(diskPath(root, top, folder));
      names.set(folder, listing);
      const found = await listing;
      listed.set(folder, found);
      return found;
    },
    listed: (folder) => listed.get(folder) ?? null,
    noteAdded: (folder, name) => {
      touched.add(join(top, folder));
      const known = listed.get(folder);
      if (known !== undefined) known.add(name);
      else
        names.get(folder)?.then(
          (found) => found.add(name),
          () => undefined,
        );
    },
    sync: async () => {
      const folders = [...touched];
      touched.clear();
      await forEachAtOnce(folders, 16, (folder) => syncFolder(diskPath(root, folder)));
    },
  };
  return keeper;
}

/** True when a real folder has this path now, made if need be; false when something else has it. */
async function isFolderNow(path: string | Buffer, onMade: () => void): Promise<boolean> {
  const made = await unlessCode(
    ['EEXIST'],
    fileCalls.mkdir(path).then(() => true),
  );
  if (made !== null) {
    onMade();
    return true;
  }
  return (await fileCalls.lstat(path)).isDirectory();
}

async function listNames(path: string | Buffer): Promise<Set<string>> {
  const names = await unlessCode(['ENOENT'], readdir(path, { encoding: 'buffer' }));
  return new Set(names?.map(nameFromBytes));
}

function join(folder: string, name: string): string {
  return folder === '' ? name : name === '' ? folder : `${folder}/${name}`;
}

function nameTaken(root: string, path: string): QuaysideError {
  return new QuaysideError({
    code: 'NAME_TAKEN',
    sentence: `${path} at ${root} is taken by something that is no folder, so nothing was stored below it. Move that away and try again.`,
    retry: 'never',
  });
}
