import type { Letter } from '@quayside/messages';

/** The specification advises to stay below 20 kB. */
const LARGEST_BYTES = 20_000;

/**
 * The body of a webhook after Standard Webhooks 1.0.0: `type`, `timestamp` and `data`. `type` is the kind of the message, or
 * `digest` for several. What does not fit is left out from the end, which is the least grave, and counted in `omitted`.
 */
export function webhookBody({ id, at, subject, messages }: Letter): string {
  const type = messages.length === 1 ? messages[0]?.kind : 'digest';
  for (let count = messages.length; ; count -= 1) {
    const data = { id, subject, messages: messages.slice(0, count), omitted: messages.length - count };
    const body = JSON.stringify({ type, timestamp: at, data });
    if (Buffer.byteLength(body) <= LARGEST_BYTES || count <= 1) return body;
  }
}
