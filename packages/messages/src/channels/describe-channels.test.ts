import { expect, it } from 'vitest';
import { describeChannels } from './describe-channels.ts';

it('shows where letters go, by name, and nothing that could be secret', () => {
  const secret = { env: 'SECRET' };
  const described = describeChannels({
    webhook: { plan: { url: 'https://plan.example.org:8443/hooks/T0PSECRET?key=k', secret, timeoutSeconds: 15 } },
    email: {
      mail: {
        host: 'smtp.example.org',
        port: 587,
        tls: 'starttls',
        user: 'studio',
        password: secret,
        from: 'a@example.org',
        to: ['b@example.org'],
        timeoutSeconds: 30,
      },
    },
    command: { bell: { command: ['/bin/ring', '--token=T0PSECRET'], timeoutSeconds: 10 } },
  });
  expect(described).toEqual([
    { name: 'bell', kind: 'command', address: '/bin/ring' },
    { name: 'mail', kind: 'email', address: 'b@example.org by smtp.example.org' },
    { name: 'plan', kind: 'webhook', address: 'https://plan.example.org:8443' },
  ]);
});
