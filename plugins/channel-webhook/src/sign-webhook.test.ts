import fc from 'fast-check';
import { Webhook } from 'standardwebhooks';
import { expect, it } from 'vitest';
import { signWebhook } from './sign-webhook.ts';

const SECRET = 'whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw';

// The vector of the tests of the specification's own repository (standard-webhooks/standard-webhooks, libraries/*).
it.each([SECRET, SECRET.slice('whsec_'.length)])('gives the published signature, secret %s', (secret) => {
  const signed = { id: 'msg_p5jXN8AQM9LWM0D4loKWxJek', timestamp: 1_614_265_330, body: '{"test": 2432232314}' };
  expect(signWebhook(secret, signed)).toBe('v1,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE=');
});

it("is accepted by the specification's own library, whatever the body, and no other body is", () => {
  const secret = fc
    .uint8Array({ minLength: 24, maxLength: 64 })
    .map((bytes) => `whsec_${Buffer.from(bytes).toString('base64')}`);
  fc.assert(
    fc.property(secret, fc.json(), (key, body) => {
      const timestamp = Math.floor(Date.now() / 1000);
      const id = 'msg-0123456789abcdef01234567';
      const headers = {
        'webhook-id': id,
        'webhook-timestamp': String(timestamp),
        'webhook-signature': signWebhook(key, { id, timestamp, body }),
      };
      expect(() => new Webhook(key).verify(body, headers)).not.toThrow();
      expect(() => new Webhook(key).verify(`${body} `, headers)).toThrow(/No matching signature/);
    }),
    { numRuns: 100 },
  );
});

it.each(['', 'whsec_', 'whsec_c2hvcnQ=', 'not base64 at all, but long enough to be', `whsec_${'A'.repeat(100)}`])(
  'refuses the secret %j without showing it',
  (secret) => {
    const sign = (): string => signWebhook(secret, { id: 'a', timestamp: 1, body: '{}' });
    expect(sign).toThrow(/not base64 of 24 to 64 bytes/);
    if (secret.length > 10) expect(sign).not.toThrow(secret.slice(6));
  },
);
