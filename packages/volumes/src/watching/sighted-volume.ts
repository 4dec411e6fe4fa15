import type { Mount, VolumeIdentity } from '@quayside/shoot';

/** A volume that is there now. */
export interface SightedVolume {
  readonly identity: VolumeIdentity;
  readonly mount: Mount;
  readonly readOnly: boolean;
  /**
   * True when another volume that is there now has the same key: a cloned drive, a copied folder, or two weak identities. The key
   * then does not tell them apart, so nothing may be concluded from it.
   */
  readonly hasTwin: boolean;
  /** Differs after the drive was taken away and brought back, where the kernel counts that (Linux 5.15). */
  readonly attachment: string | null;
}

/** Sets `hasTwin` on every volume whose key occurs more than once. */
export function markTwins(volumes: readonly Omit<SightedVolume, 'hasTwin'>[]): readonly SightedVolume[] {
  const counts = new Map<string, number>();
  for (const { identity } of volumes) counts.set(identity.key, (counts.get(identity.key) ?? 0) + 1);
  return volumes.map((volume) => ({ ...volume, hasTwin: (counts.get(volume.identity.key) ?? 0) > 1 }));
}
