import { createHmac } from 'node:crypto';
import { QuaysideError } from '@quayside/shoot';

/**
 * The signature of a webhook after Standard Webhooks 1.0.0: HMAC-SHA256 over `id.timestamp.body`, as `v1,` and base64.
 * `secret` is base64 of 24 to 64 bytes, usually behind `whsec_`; `timestamp` is in seconds since 1970.
 * @throws QuaysideError `WEBHOOK_SECRET_BAD`, which does not show it
 */
export function signWebhook(
  secret: string,
  { id, timestamp, body }: { readonly id: string; readonly timestamp: number; readonly body: string },
): string {
  return `v1,${createHmac('sha256', keyOf(secret)).update(`${id}.${timestamp}.${body}`).digest('base64')}`;
}

function keyOf(secret: string): Buffer {
  const text = secret.replace(/^whsec_/, '');
  const key = Buffer.from(text, 'base64');
  if (/^[A-Za-z0-9+/]+={0,2}$/.test(text) && key.length >= 24 && key.length <= 64) return key;
  throw new QuaysideError({
    code: 'WEBHOOK_SECRET_BAD',
    sentence:
      'The secret of the webhook is not base64 of 24 to 64 bytes. Make one with: echo "whsec_$(head -c 32 /dev/urandom | base64)".',
    retry: 'later',
  });
}
