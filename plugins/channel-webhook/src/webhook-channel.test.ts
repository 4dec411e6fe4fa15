import { once } from 'node:events';
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import { composeLetter, type Letter, sampleMessage } from '@quayside/messages';
import { type ChannelContext, sendLetter } from '@quayside/channel-contract';
import { Webhook } from 'standardwebhooks';
import { expect, it, onTestFinished } from 'vitest';
import { webhookBody } from './webhook-body.ts';
import { webhookChannel } from './webhook-channel.ts';

const SECRET = 'whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw';
const NOW = '2026-03-01T10:00:00.000Z';

function letterOf(count = 1): Letter {
  const messages = Array.from({ length: count }, (_, index) => ({
    ...sampleMessage('roll.clear', NOW),
    subject: `wheel-${index}`,
  }));
  return composeLetter({ id: 'msg-0123456789abcdef01234567', messages, timeZone: 'UTC' });
}

const stopping: (() => void)[] = [];
const context: ChannelContext = {
  signal: new AbortController().signal,
  onStop: (stop) => void stopping.push(stop),
  secret: async () => SECRET,
  environment: {},
};

interface Received {
  readonly headers: IncomingMessage['headers'];
  readonly body: string;
}

/** A real HTTP server; `answer` says what it answers. */
async function receiver(answer: (response: ServerResponse, url: string) => void) {
  const received: Received[] = [];
  const server = createServer(async (request, response) => {
    let body = '';
    for await (const chunk of request.setEncoding('utf8')) body += String(chunk);
    received.push({ headers: request.headers, body });
    answer(response, request.url ?? '');
  }).listen(0, '127.0.0.1');
  await once(server, 'listening');
  onTestFinished(() => {
    server.closeAllConnections();
    server.close();
  });
  const address = server.address();
  return { received, url: `http://127.0.0.1:${typeof address === 'object' ? address?.port : 0}/hook/T0PSECRET` };
}

const send = (url: string, letter = letterOf(), timeoutSeconds = 5): Promise<void> =>
  sendLetter(webhookChannel, { settings: { url, secret: { env: 'HOOK' }, timeoutSeconds }, letter }, context);

it("what arrives is accepted by the specification's own library, with the key in header and body", async () => {
  const { received, url } = await receiver((response) => response.writeHead(204).end());
  await send(url);
  const [one] = received;
  const given = new Webhook(SECRET).verify(one?.body ?? '', one?.headers as Record<string, string>);
  expect(given).toMatchObject({
    type: 'roll.clear',
    timestamp: NOW,
    data: { id: 'msg-0123456789abcdef01234567', omitted: 0, messages: [{ subject: 'wheel-0' }] },
  });
  expect(one?.headers).toMatchObject({
    'webhook-id': 'msg-0123456789abcdef01234567',
    'idempotency-key': 'msg-0123456789abcdef01234567',
    'content-type': 'application/json',
  });
});

it.each([
  [500, 'later'],
  [301, 'later'],
  [404, 'later'],
  [410, 'never'],
])('status %i is not delivered, to be tried %s, and what follows the host is not shown', async (status, retry) => {
  const { received, url } = await receiver((response, at) =>
    response.writeHead(at === '/other' ? 200 : status, { location: '/other' }).end('T0PSECRET'),
  );
  await expect(send(url)).rejects.toMatchObject({ code: 'CHANNEL_REFUSED', retry });
  await expect(send(url)).rejects.not.toThrow(/T0PSECRET/);
  // No link was followed.
  expect(received).toHaveLength(2);
});

it('a receiver that hangs is given up after its time', async () => {
  const { url } = await receiver(() => undefined);
  await expect(send(url, letterOf(), 1)).rejects.toThrow(/gave no answer within 1 s/);
});

it('a receiver that hangs is let go when the service stops', async () => {
  const { url } = await receiver(() => {
    for (const stop of stopping) stop();
  });
  await expect(send(url, letterOf(), 100)).rejects.toMatchObject({ retry: 'later' });
});

it('a receiver that is not there is named without its secret path', async () => {
  const server = createServer().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  const port = typeof address === 'object' ? address?.port : 0;
  server.close();
  await expect(send(`http://127.0.0.1:${port}/hook/T0PSECRET`)).rejects.toThrow(
    `Nothing could be delivered to http://127.0.0.1:${port}: ECONNREFUSED.`,
  );
});

it('a digest of many stays below 20 kB and counts what it leaves out', () => {
  const body = webhookBody(letterOf(400));
  expect(Buffer.byteLength(body)).toBeLessThanOrEqual(20_000);
  const { type, data } = JSON.parse(body) as { type: string; data: { messages: unknown[]; omitted: number } };
  expect(type).toBe('digest');
  expect(data.messages.length).toBeGreaterThan(10);
  expect(data.messages.length + data.omitted).toBe(400);
});
