import type { Failure } from '@quayside/shoot';
import type { Configuration } from './configuration-schema.ts';
import { destinationFaults } from './destination-faults.ts';
import type { Fault } from './fault.ts';
import { statement } from './fault.ts';
import { recorderFaults } from './recorder-faults.ts';

/**
 * What makes no sense in a configuration whose form is right. Pure, so it cannot know what is mounted: see
 * `destinationInsideSource` for that. `parseConfiguration` has found none in what it returns.
 */
export function configurationProblems(configuration: Configuration): Failure[] {
  return semanticFaults(configuration).map((fault) => ({
    code: 'CONFIG_INVALID',
    sentence: `${statement(fault)}.`,
    retry: 'never',
  }));
}

/** The same as faults, which can be placed in the file. */
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
