import type { Configuration } from './configuration-schema.ts';
import { destinationFaults } from './destination-faults.ts';
import type { Fault } from './fault.ts';
import { messageFaults } from './message-faults.ts';
import { recorderFaults } from './recorder-faults.ts';

/**
 * What makes no sense in a configuration whose form is right. Pure, so it cannot know what is mounted: see
 * `destinationInsideSource` for that.
 */
export function semanticFaults(configuration: Configuration): Fault[] {
  return [
    ...recorderFaults(configuration.recorders),
    ...destinationFaults(configuration),
    ...hashFaults(configuration),
    ...proxyFaults(configuration),
    ...messageFaults(configuration),
  ];
}

function hashFaults({ hashes }: Configuration): Fault[] {
  return hashes.flatMap((hash, index): Fault[] =>
    hashes.indexOf(hash) === index
      ? []
      : [{ path: ['hashes', index], at: 'value', what: 'is listed twice', got: hash, remedy: 'remove one of them' }],
  );
}

function proxyFaults({ proxies: { destination }, destinations }: Configuration): Fault[] {
  const names = destinations.map(({ name }) => name);
  if (destination === undefined || names.includes(destination)) return [];
  const remedy = `write one of ${names.join(', ')}, or remove the key`;
  return [
    {
      path: ['proxies', 'destination'],
      at: 'value',
      what: 'is no destination of this configuration',
      got: destination,
      remedy,
    },
  ];
}
