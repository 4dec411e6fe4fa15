import { QuaysideError } from '@quayside/shoot';

/** A value in an address. */
export type Value = string | number | boolean | undefined;

/**
 * The path with its ids and its query filled in.
 * @throws QuaysideError `ID_IMPOSSIBLE` for an id that would make another path of it.
 */
export function writeAddress(
  path: string,
  ids: Readonly<Record<string, Value>> = {},
  query: Readonly<Record<string, Value>> = {},
): string {
  const filled = path.replaceAll(/\{(\w+)\}/g, (_, name: string) => idInPath(String(ids[name] ?? '')));
  const values = new URLSearchParams();
  for (const [name, value] of Object.entries(query)) if (value !== undefined) values.append(name, String(value));
  return values.size === 0 ? filled : `${filled}?${values.toString()}`;
}

function idInPath(id: string): string {
  // These vanish from an address before it is sent, and what is left may be the address of something else.
  if (!/^\.{0,2}$/.test(id)) return encodeURIComponent(id);
  throw new QuaysideError({
    code: 'ID_IMPOSSIBLE',
    sentence: `"${id}" can be the id of nothing. Give the id as the service shows it.`,
    retry: 'never',
  });
}
