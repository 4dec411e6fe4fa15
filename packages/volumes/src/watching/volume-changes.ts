import type { SightedVolume } from './sighted-volume.ts';

/**
 * What happened to a volume between two looks. `changed-mount`: the same volume, but mounted elsewhere or anew, attached anew, turned
 * read-only or writable, or its twin came or went; whoever works on it must open it again. `left` carries the volume as it was last seen.
 */
export interface VolumeChange {
  readonly kind: 'appeared' | 'left' | 'changed-mount';
  readonly volume: SightedVolume;
}

/** The changes from one look to the next, departures first. */
export function volumeChanges(
  before: readonly SightedVolume[],
  after: readonly SightedVolume[],
): readonly VolumeChange[] {
  const gone = before.filter((volume) => !after.some((other) => isSameMount(volume, other)));
  const fresh = after.filter((volume) => !before.some((other) => isSameMount(volume, other)));
  const moved = fresh.filter((volume) => isOnlyOneOfItsKey(volume, gone) && isOnlyOneOfItsKey(volume, fresh));
  const altered = after.filter((volume) =>
    before.some((other) => isSameMount(volume, other) && isAltered(volume, other)),
  );
  return [
    ...gone.filter((volume) => !moved.some((other) => hasSameKey(volume, other))).map(change('left')),
    ...[...moved, ...altered].map(change('changed-mount')),
    ...fresh.filter((volume) => !moved.includes(volume)).map(change('appeared')),
  ];
}

function change(kind: VolumeChange['kind']): (volume: SightedVolume) => VolumeChange {
  return (volume) => ({ kind, volume });
}

function hasSameKey(one: SightedVolume, other: SightedVolume): boolean {
  return one.identity.key === other.identity.key;
}

function isSameMount(one: SightedVolume, other: SightedVolume): boolean {
  const { path, mountId, device } = one.mount;
  return (
    hasSameKey(one, other) &&
    path === other.mount.path &&
    mountId === other.mount.mountId &&
    device === other.mount.device
  );
}

/** With twins about, which of them moved cannot be told, so none is said to have moved. */
function isOnlyOneOfItsKey(volume: SightedVolume, among: readonly SightedVolume[]): boolean {
  return among.filter((other) => hasSameKey(volume, other)).length === 1;
}

function isAltered(one: SightedVolume, other: SightedVolume): boolean {
  return one.readOnly !== other.readOnly || one.hasTwin !== other.hasTwin || one.attachment !== other.attachment;
}
