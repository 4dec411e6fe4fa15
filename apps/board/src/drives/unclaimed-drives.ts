import type { VolumeAnswer } from '@quayside/admin-api/page-answers';
import type { DriveLook } from '../picture/drive-look.ts';
import { countOf, showSize } from '../words/show-size.ts';

/** A drive that is connected and no recorder's: nothing of it is copied. */
export interface UnclaimedDrive {
  readonly key: string;
  readonly name: string;
  readonly what: string;
}

/** The connected drives that nobody has claimed. */
export function unclaimedDrives({ connected }: DriveLook): readonly UnclaimedDrive[] {
  return connected.filter(({ recorder }) => recorder === null).map(describe);
}

/** The recorders that the page has seen a drive of, to choose from. */
export function recordersIn({ connected, rolls }: DriveLook): readonly string[] {
  const seen = [...connected.map(({ recorder }) => recorder), ...rolls.map(({ recorder }) => recorder)];
  return [...new Set(seen.filter((name) => name !== null))].toSorted();
}

function describe({ key, label, fileSystem, fileCount, sizeInBytes, mountPath }: VolumeAnswer): UnclaimedDrive {
  const what = `${fileSystem}, ${countOf(fileCount, 'file')}, ${showSize(sizeInBytes)}, at ${mountPath ?? 'no path'}`;
  return { key, name: label ?? key, what };
}
