import type { Configuration } from './configuration-schema.ts';
import { destinationFaults } from './destination-faults.ts';
import type { Fault } from './fault.ts';
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
  ];
}

function hashFaults({ hashes }: Configuration): Fault[] {
  return hashes.flatMap((hash, index): Fault[] =>
    hashes.indexOf(hash) === index
      ? []
      : [{ path: ['hashes', index], at: 'value', what: 'is listed twice', got: hash, remedy: 'remove one of them' }],
  );
}
