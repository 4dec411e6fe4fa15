import { stringify } from 'yaml';
import type { Configuration } from './configuration-schema.ts';
import { withoutPassword } from './fault.ts';
import { sizeText } from './size-text.ts';

/**
 * The whole configuration as YAML that would give the same configuration anywhere, with every default written out. The
 * one thing it leaves out is a password in the URL of Redis, shown as `***`.
 */
export function effectiveConfiguration(configuration: Configuration): string {
  const {
    data,
    redis,
    watch: { roots, ...watching },
    recorders,
    destinations,
    ...rest
  } = configuration;
  return stringify(
    {
      data,
      redis: redis.url === undefined ? {} : { url: withoutPassword(redis.url) },
      watch: { roots, ...watching },
      recorders,
      destinations: destinations.map((destination) => ({
        ...destination,
        keepFreeBytes: sizeText(destination.keepFreeBytes),
      })),
      ...rest,
    },
    { aliasDuplicateObjects: false, compat: 'yaml-1.1', lineWidth: 0 },
  );
}
