/** Where Redis answers: a Unix socket's path, or a `redis://` or `rediss://` URL (which may carry a password). */
export type RedisAddress =
  | { readonly kind: 'socket'; readonly path: string }
  | { readonly kind: 'url'; readonly url: string };

/** The address in a text: one that begins with `/` is a socket's path, anything else is taken for a URL, unchecked. */
export function redisAddressFrom(text: string): RedisAddress {
  return text.startsWith('/') ? { kind: 'socket', path: text } : { kind: 'url', url: text };
}

/** The address as it may be shown and logged: never with the user or the password. */
export function describeAddress(address: RedisAddress): string {
  if (address.kind === 'socket') return address.path;
  if (!URL.canParse(address.url)) return 'the configured redis.url';
  const { protocol, host, pathname } = new URL(address.url);
  return `${protocol}//${host}${pathname}`;
}
