import { parse } from 'plist';

/** What `diskutil info -plist` says of a volume; null for whatever it does not say. */
export interface DiskutilInfo {
  readonly fileSystem: string | null;
  readonly uuid: string | null;
  readonly label: string | null;
  readonly sizeInBytes: number;
  /** The disks that the volume is on (`disk4`): for APFS those below its container. */
  readonly wholeDisks: readonly string[];
}

/** Reads the property list that `diskutil info -plist` prints. Keys written from memory, not run on a Mac. Null for other text. */
export function parseDiskutilInfo(text: string): DiskutilInfo | null {
  const facts = readPlist(text);
  if (!facts) return null;
  const stores = Array.isArray(facts['APFSPhysicalStores']) ? facts['APFSPhysicalStores'] : [];
  const disks = stores.flatMap((store) => (isDictionary(store) ? (textOf(store['APFSPhysicalStore']) ?? []) : []));
  const whole = disks.length > 0 ? disks : [textOf(facts['ParentWholeDisk']) ?? []].flat();
  return {
    fileSystem: textOf(facts['FilesystemType']),
    uuid: textOf(facts['VolumeUUID']) ?? textOf(facts['DiskUUID']),
    label: textOf(facts['VolumeName']),
    sizeInBytes: sizeOf(facts['TotalSize'] ?? facts['Size']),
    // A store is a partition, `disk0s2`; its disk is what comes before the `s`.
    wholeDisks: [...new Set(whole.map((disk) => /^disk\d+/.exec(disk)?.[0] ?? disk))].toSorted(),
  };
}

function readPlist(text: string): Record<string, unknown> | null {
  // The library's parser writes to the console when it is given other text.
  if (!text.includes('<plist')) return null;
  try {
    const value: unknown = parse(text);
    return isDictionary(value) ? value : null;
  } catch {
    // Another tool's text or a broken one: it says nothing about the volume, which is what null means.
    return null;
  }
}

function isDictionary(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function textOf(value: unknown): string | null {
  return typeof value === 'string' && value !== '' ? value : null;
}

function sizeOf(value: unknown): number {
  return typeof value === 'number' && Number.isSafeInteger(value) && value >= 0 ? value : 0;
}
