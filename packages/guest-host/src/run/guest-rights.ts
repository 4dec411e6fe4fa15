import { QuaysideError, type Grant } from '@quayside/shoot';
import type { PluginSource } from '../plugin-source/find-plugin.ts';

/** What one process of a guest may do. Runs with the same rights may use the same process, one after the other. */
export interface GuestRights {
  readonly source: PluginSource;
  /** The folders of verified copies that it may read. They must be there when the process is started. */
  readonly copyFolders: readonly string[];
  readonly grants: readonly Grant[];
  readonly memoryMb: number;
  readonly programsMb: number;
  readonly outputMb: number;
}

export interface ProcessPlaces {
  /** The one folder that it may write. */
  readonly workFolder: string;
  /** What the host's own part in it is made of. */
  readonly ownCode: readonly string[];
}

/**
 * Node's arguments for these rights (Node.js 24, "Permissions").
 * @throws QuaysideError `PLUGIN_PATH_UNFENCEABLE` for a path with `*`, which Node takes as a pattern
 */
export function nodeArguments(rights: GuestRights, { workFolder, ownCode }: ProcessPlaces): readonly string[] {
  const readable = [...ownCode, ...rights.source.readable, ...rights.copyFolders, workFolder];
  for (const path of [...readable, workFolder]) throwIfPattern(path);
  return [
    '--permission',
    ...new Set(readable.map((path) => `--allow-fs-read=${path}`)),
    `--allow-fs-write=${workFolder}`,
    ...rights.grants.flatMap((grant) => FLAGS[grant]),
    // It opens files without asking the permission model (seen with Node 24.21).
    '--no-experimental-sqlite',
    `--max-old-space-size=${Math.floor(rights.memoryMb)}`,
    '--max-semi-space-size=1',
    '--disable-warning=ExperimentalWarning',
    // With the grant Node warns that it is one.
    '--disable-warning=SecurityWarning',
  ];
}

const FLAGS: Readonly<Record<Grant, readonly string[]>> = {
  'child-processes': ['--allow-child-process'],
  'native-addons': ['--allow-addons'],
  'worker-threads': ['--allow-worker'],
  network: [],
};

function throwIfPattern(path: string): void {
  if (!path.includes('*')) return;
  throw new QuaysideError({
    code: 'PLUGIN_PATH_UNFENCEABLE',
    sentence: `No guest can be given the right to "${path}" alone, because "*" in a path stands for anything. Rename that folder.`,
    retry: 'never',
  });
}

/** The same for two processes exactly when either can do the other's work. */
export function keyOfRights(rights: GuestRights): string {
  const { source, copyFolders, grants, memoryMb, programsMb, outputMb } = rights;
  const limits = [memoryMb, programsMb, outputMb];
  return JSON.stringify([source.entry, source.state, copyFolders.toSorted(), grants.toSorted(), limits]);
}
