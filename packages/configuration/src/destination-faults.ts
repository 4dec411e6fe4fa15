import type { Configuration } from './configuration-schema.ts';
import type { Fault } from './fault.ts';
import { isAtOrBelow } from './is-at-or-below.ts';

/** Destinations that would overlap, be taken for a source, or be too few. */
export function destinationFaults(configuration: Configuration): Fault[] {
  const { destinations, copies } = configuration;
  const faults = destinations.flatMap((_, index) => [
    ...overlapFaults(configuration, index),
    ...watchFaults(configuration, index),
  ]);
  if (copies <= destinations.length) return faults;
  const what = `asks for ${copies} copies where there ${destinations.length === 1 ? 'is 1 destination' : `are ${destinations.length} destinations`}, so no roll could ever be clear`;
  return [
    ...faults,
    {
      path: ['copies'],
      at: 'value',
      what,
      remedy: `add destinations, or set copies to ${destinations.length} and live with the risk`,
    },
  ];
}

function overlapFaults({ destinations }: Configuration, index: number): Fault[] {
  const here = destinations[index];
  if (here === undefined) return [];
  const earlier = destinations.slice(0, index);
  const faults: Fault[] = [];
  if (earlier.some(({ name }) => name === here.name)) {
    const remedy = 'give each its own name';
    faults.push({
      path: ['destinations', index, 'name'],
      at: 'value',
      what: 'is the name of another destination too',
      got: here.name,
      remedy,
    });
  }
  const other = earlier.find(({ path }) => isAtOrBelow(here.path, path) || isAtOrBelow(path, here.path));
  if (other !== undefined) {
    const remedy = 'give each its own folder, best on its own device';
    faults.push({
      path: ['destinations', index, 'path'],
      at: 'value',
      what: relation(here.path, other),
      got: here.path,
      remedy,
    });
  }
  return faults;
}

function relation(path: string, { name, path: other }: { readonly name: string; readonly path: string }): string {
  if (path === other) return `is the folder of destination "${name}" too`;
  return isAtOrBelow(path, other)
    ? `lies inside destination "${name}" at ${other}`
    : `holds destination "${name}" at ${other}`;
}

/**
 * A destination that is a watch root or holds one would have every source inside it. One below a root is fine while only
 * mounts count as volumes, since its own drive is often mounted there; once folders count, it may lie in a source.
 */
function watchFaults({ destinations, watch }: Configuration, index: number): Fault[] {
  const path = destinations[index]?.path ?? '';
  const root = watch.roots.find(
    (candidate) => isAtOrBelow(candidate, path) || (watch.folders && isAtOrBelow(path, candidate)),
  );
  if (root === undefined) return [];
  const what = isAtOrBelow(path, root)
    ? `lies in the watched folder ${root}, where sources appear`
    : `holds the watched folder ${root}, where sources appear`;
  return [
    {
      path: ['destinations', index, 'path'],
      at: 'value',
      what,
      got: path,
      remedy: 'move the destination, or set watch.roots to where drives are mounted',
    },
  ];
}
