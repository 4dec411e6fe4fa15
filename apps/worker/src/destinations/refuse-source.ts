import { realpath, stat } from 'node:fs/promises';
import { destinationInsideSource, recorderFor, type Configuration } from '@quayside/configuration';
import type { Store } from '@quayside/job-queue';
import type { Failure, Mount, VolumeIdentity } from '@quayside/shoot';
import { deviceNumber, presentVolumes } from '@quayside/volumes';

export interface SourceParts {
  readonly store: Store;
  readonly configuration: Configuration;
}

interface Place {
  readonly name: string;
  readonly root: string;
  /** True before its marker is made: then the drives are looked at themselves, since the watcher may not have seen them yet. */
  readonly isFirstUse: boolean;
}

/**
 * Why nothing may be written at a destination's path: it lies on a recorder's drive, which is never written. Asked before
 * anything else is done there, even before looking for its marker. By device too, since a bind mount hides the path.
 */
export async function refuseSource(parts: SourceParts, { name, root, isFirstUse }: Place): Promise<Failure | null> {
  const path = await realpath(root).catch(() => null);
  if (path === null) return null;
  const sources = [...(await knownSources(parts)), ...(isFirstUse ? await presentSources(parts) : [])];
  const [inside] = destinationInsideSource(
    [{ name, path }],
    sources.map(({ mount }) => mount),
  );
  if (inside !== undefined) return inside;
  const device = deviceNumber((await stat(path, { bigint: true })).dev);
  const source = sources.find(({ mount, identity }) => identity.basis !== 'folder' && mount.device === device);
  if (source === undefined) return null;
  const sentence = `Destination ${name} at ${root} lies on the drive at ${source.mount.path}, which is a source, and a source is never written. Point it at another device.`;
  return { code: 'DESTINATION_INSIDE_SOURCE', sentence, retry: 'never' };
}

interface Source {
  readonly mount: Mount;
  readonly identity: VolumeIdentity;
}

async function knownSources({ store }: SourceParts): Promise<readonly Source[]> {
  const volumes = await store.volumes();
  return volumes.flatMap(({ mount, identity, recorder }) =>
    mount === null || recorder === null ? [] : [{ mount, identity }],
  );
}

async function presentSources({ configuration }: SourceParts): Promise<readonly Source[]> {
  const { roots, folders } = configuration.watch;
  const present = await presentVolumes({ roots, folders });
  return present.filter(({ identity }) => recorderFor(configuration, identity) !== null);
}
