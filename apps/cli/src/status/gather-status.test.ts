import { once } from 'node:events';
import { createServer, type Server } from 'node:http';
import { createClient } from '@quayside/api-client';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { gatherStatus } from './gather-status.ts';
import { judgeDrives } from './judge-drives.ts';
import { AWAKE, CLEAR_ROLL, VOLUME } from './status.test-support.ts';

/** What a service of some version answers, by path. */
const answers = new Map<string, unknown>();
let server: Server;
beforeAll(async () => {
  server = createServer((request, response) => {
    response.setHeader('content-type', 'application/json');
    response.end(JSON.stringify(answers.get(request.url?.split('?', 1)[0] ?? '')));
  }).listen(0, '127.0.0.1');
  await once(server, 'listening');
});
afterAll(() => void server.close());

async function statusOf(change: { readonly health?: object; readonly volume?: object; readonly roll?: object }) {
  const now = new Date().toISOString();
  const roll = { ...CLEAR_ROLL, clearance: { ...CLEAR_ROLL.clearance, judgedAt: now }, ...change.roll };
  answers.set('/v1/health', { ...AWAKE, ...change.health });
  answers.set('/v1/volumes', { volumes: [{ ...VOLUME, ...change.volume }] });
  answers.set('/v1/rolls', { rolls: [], next: null });
  answers.set(`/v1/rolls/${CLEAR_ROLL.id}`, roll);
  const address = server.address();
  const port = typeof address === 'object' && address !== null ? address.port : 0;
  return gatherStatus(createClient({ address: `http://127.0.0.1:${port}` }), null);
}

it('passes on the yes of a service that it understands', async () => {
  expect(judgeDrives(await statusOf({})).map(({ word }) => word)).toEqual(['CLEAR']);
});

// As a service of another version might answer: types alone would let each of them become a yes.
it.each([
  ['a verdict that is neither yes nor no', { roll: { clearance: { ...CLEAR_ROLL.clearance, verdict: 'cleared' } } }],
  ['a roll that does not say whether its drive is there', { roll: { drivePresent: 'unknown' } }],
  ['a drive of which it is not known whether it has settled', { volume: { standing: 'nearly-settled' } }],
  ['a worker of which it is not known whether it is awake', { health: { worker: { alive: 'yes', said: null } } }],
  ['a Redis in a state that is unknown here', { health: { redis: 'read-only' } }],
])('refuses %s', async (_, change) => {
  await expect(statusOf(change)).rejects.toMatchObject({ code: 'ANSWER_ODD', retry: 'never' });
});
