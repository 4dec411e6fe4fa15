import type { Configuration } from './configuration-schema.ts';
import type { Fault } from './fault.ts';
import { nearestOf } from './known-keys.ts';

/** What makes no sense about messages: rules for channels that are not there, and channels that share a name. */
export function messageFaults({ messages }: Configuration): Fault[] {
  const places = (['email', 'webhook', 'command'] as const).flatMap((kind) =>
    Object.keys(messages[kind]).map((name) => ({ kind, name })),
  );
  const names = places.map(({ name }) => name);
  const shared = places
    .filter(({ name }, index) => names.indexOf(name) !== index)
    .map(({ kind, name }): Fault => ({
      path: ['messages', kind, name],
      at: 'key',
      what: 'is the name of another channel too',
      remedy: 'give one of them another name',
    }));
  const unknown = messages.rules.flatMap((rule, index) =>
    (rule.channels ?? []).flatMap((name, position): Fault[] =>
      names.includes(name)
        ? []
        : [
            {
              path: ['messages', 'rules', index, 'channels', position],
              at: 'value',
              what: 'is not the name of a channel',
              got: name,
              remedy: remedyFor(name, names),
            },
          ],
    ),
  );
  return [...shared, ...unknown];
}

function remedyFor(name: string, names: readonly string[]): string {
  const nearest = nearestOf(name, names);
  if (nearest !== null) return `did you mean "${nearest}"?`;
  return names.length === 0 ? 'add a channel of that name' : `the channels are ${names.join(', ')}`;
}
