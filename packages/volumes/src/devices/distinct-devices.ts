import type { FolderDevices } from './devices-of.ts';

/** A destination by its name, and what its data lies on. */
export interface PlacedDestination extends Pick<FolderDevices, 'devices' | 'imageHosts' | 'memory' | 'network'> {
  readonly name: string;
}

/** `groups` are proven to be on separate hardware: two copies count as two only when they are in two groups. */
export interface DistinctDevices {
  readonly groups: readonly (readonly string[])[];
  /** Destinations that add nothing to the count, with the reason: kept in memory, or on a device that may be any of the others. */
  readonly uncounted: readonly { readonly name: string; readonly why: 'memory' | 'unknown' }[];
}

/**
 * Puts destinations that share any disk or server into one group, and one in an image file with those on the disk that holds the
 * file; two image files on one disk are two, since test rigs are made of them. Never counts too many: those on unknown devices form one
 * group together when nothing else is known, else they are not counted.
 */
export function distinctDevices(destinations: readonly PlacedDestination[]): DistinctDevices {
  const lasting = destinations.filter((destination) => !destination.memory);
  const known = lasting.filter((destination) => hardwareOf(destination).length > 0);
  const unknown = lasting.filter((destination) => hardwareOf(destination).length === 0).map(({ name }) => name);
  const inMemory = destinations.filter((destination) => destination.memory).map(({ name }) => name);
  const unknownIsAll = known.length === 0 && unknown.length > 0;
  return {
    groups: unknownIsAll ? [unknown] : groupByHardware(known),
    uncounted: [
      ...inMemory.map((name) => ({ name, why: 'memory' as const })),
      ...(unknownIsAll ? [] : unknown).map((name) => ({ name, why: 'unknown' as const })),
    ],
  };
}

function hardwareOf({ devices, network }: PlacedDestination): readonly string[] {
  return [...devices.map((disk) => `disk ${disk}`), ...(network ? [`server ${network}`] : [])];
}

interface Group {
  readonly names: readonly string[];
  readonly hardware: ReadonlySet<string>;
  readonly hosts: ReadonlySet<string>;
}

function groupByHardware(destinations: readonly PlacedDestination[]): readonly (readonly string[])[] {
  let groups: readonly Group[] = [];
  for (const destination of destinations) {
    const own = hardwareOf(destination);
    const below = destination.imageHosts.map((disk) => `disk ${disk}`);
    const touching = groups.filter(
      ({ hardware, hosts }) =>
        own.some((piece) => hardware.has(piece) || hosts.has(piece)) || below.some((piece) => hardware.has(piece)),
    );
    const merged = {
      names: [...touching.flatMap(({ names }) => names), destination.name],
      hardware: new Set([...touching.flatMap(({ hardware }) => [...hardware]), ...own]),
      hosts: new Set([...touching.flatMap(({ hosts }) => [...hosts]), ...below]),
    };
    groups = [...groups.filter((group) => !touching.includes(group)), merged];
  }
  return groups.map(({ names }) => names);
}
