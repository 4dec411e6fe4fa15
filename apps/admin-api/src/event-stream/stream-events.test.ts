import { once } from 'node:events';
import { createServer } from 'node:http';
import { connect } from 'node:net';
import { setTimeout as pause } from 'node:timers/promises';
import type { StreamedEvent } from '@quayside/shoot';
import { expect, it } from 'vitest';
import { streamEvents } from './stream-events.ts';

it('cuts off a client that takes nothing, having taken no more events than the sockets hold', async () => {
  let taken = 0;
  async function* endless(): AsyncGenerator<StreamedEvent> {
    for (;;) {
      taken += 1;
      // 64 KiB each: the sockets' buffers hold some hundred of these, no matter how many there are.
      yield {
        id: `${taken}-0`,
        type: 'roll.copied',
        at: '2026-03-01T10:00:00.000Z',
        subject: 'r',
        sentence: 'x'.repeat(65_536),
      };
      await pause(0);
    }
  }
  const { promise: ended, resolve } = Promise.withResolvers<boolean>();
  const server = createServer((_request, response) => {
    void streamEvents(response, endless(), { heartbeatMs: 50, stallMs: 300 }).then(() => resolve(response.destroyed));
  }).listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  const client = connect(typeof address === 'object' && address !== null ? address.port : 0, '127.0.0.1');
  client.write('GET / HTTP/1.1\r\nhost: x\r\n\r\n');
  client.pause();
  expect(await ended).toBe(true);
  expect(taken).toBeLessThan(1_000);
  client.destroy();
  server.close();
});
