import type { Failure } from '@quayside/shoot';
import { findFolderVolumes } from '../identity/folder-volume.ts';
import type { MountEntry } from '../mounts/mount-entry.ts';
import { readMounts } from '../mounts/read-mounts.ts';
import { attachedMounts, type AttachedMount } from './attached-mount.ts';
import { candidateMounts } from './candidate-mounts.ts';
import { IdentityMemory } from './identity-memory.ts';
import { RootPaths } from './root-paths.ts';
import { markTwins, type SightedVolume } from './sighted-volume.ts';

export interface SightingOptions {
  /** Absolute folders in which volumes get mounted. One that does not exist yet is fine. */
  readonly roots: readonly string[];
  /** Whether marked plain folders directly below a root count as volumes. */
  readonly folders: boolean;
  /** Told of what keeps a volume from being seen. */
  readonly onTrouble?: (failure: Failure) => void;
}

/** The volumes that are there now, each identified. Throws `MOUNT_TABLE_UNREADABLE` or `ROOT_UNREADABLE`. */
export async function presentVolumes(options: SightingOptions): Promise<readonly SightedVolume[]> {
  const memory = new SightingMemory();
  const first = await sightVolumes(options, memory);
  if (first.unknown.length === 0) return first.volumes;
  await Promise.all(first.unknown.map((mount) => memory.identities.learn(mount)));
  // Troubles were told at the first look.
  const { roots, folders } = options;
  return (await sightVolumes({ roots, folders }, memory)).volumes;
}

/** What can be said at once: the volumes whose identity is remembered, and the mounts that must be asked first. */
export interface Sighting {
  readonly volumes: readonly SightedVolume[];
  readonly unknown: readonly AttachedMount[];
}

/** What one look leaves for the next. */
export class SightingMemory {
  readonly identities = new IdentityMemory();
  readonly rootPaths = new RootPaths();
}

/** Looks at the mount table and, when asked for, at folders; identifies nothing. Touches no mounted volume. */
export async function sightVolumes(options: SightingOptions, memory: SightingMemory): Promise<Sighting> {
  const mounts = await readMounts();
  const roots = await memory.rootPaths.resolve(options.roots, mounts);
  const candidates = attachedMounts(candidateMounts(mounts, roots));
  const { identities } = memory;
  identities.forgetAllBut(candidates);
  const known = candidates.flatMap((mount) => {
    const volume = identities.recall(mount);
    return volume ? { ...volume, readOnly: mount.readOnly, attachment: mount.attachment } : [];
  });
  const folders = options.folders ? await sightFolders(roots, mounts, options.onTrouble) : [];
  return {
    volumes: markTwins([...known, ...folders]),
    unknown: candidates.filter((mount) => !identities.recall(mount)),
  };
}

async function sightFolders(
  roots: readonly string[],
  mounts: readonly MountEntry[],
  onTrouble: SightingOptions['onTrouble'] = () => {},
): Promise<readonly Omit<SightedVolume, 'hasTwin'>[]> {
  const mounted = new Set(mounts.map((mount) => mount.path));
  const found = await Promise.all([...new Set(roots)].map((root) => findFolderVolumes(root, { mounted, onTrouble })));
  return found.flat().map((volume) => ({ ...volume, readOnly: false, attachment: null }));
}
