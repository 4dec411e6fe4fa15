import { once } from 'node:events';
import { createServer, type Server } from 'node:http';
import { createClient } from '@quayside/api-client';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { driveCards } from '../drives/drive-cards.ts';
import { CLEAR_ROLL, lookAtWheel } from '../drives/look.test-support.ts';
import { type BoardState, NOTHING_KNOWN } from '../picture/board-state.ts';
import { howSure } from '../picture/how-sure.ts';
import type { Moment } from '../picture/moment.ts';
import { createStore, type Store } from '../picture/store.ts';
import { keepLooking, type Looking } from './keep-looking.ts';

/** What a service of some version answers, by path. */
let answers: Map<string, unknown>;
let server: Server;
let store: Store<BoardState>;
let stop: AbortController;
let looking: Looking;
beforeEach(async () => {
  const { health, connected } = lookAtWheel();
  const clearance = { ...CLEAR_ROLL.clearance, judgedAt: new Date().toISOString() };
  answers = new Map<string, unknown>([
    ['/v1/health', health],
    ['/v1/volumes', { volumes: connected }],
    ['/v1/rolls', { rolls: [{ ...CLEAR_ROLL, clearance }], next: null }],
    ['/v1/rolls/wheel-1', { ...CLEAR_ROLL, clearance }],
    ['/v1/shoots', { shoots: [] }],
    ['/v1/events/list', { events: [], next: '0' }],
  ]);
  server = createServer((request, response) => {
    response.setHeader('content-type', 'application/json');
    response.end(JSON.stringify(answers.get(request.url?.split('?', 1)[0] ?? '') ?? null));
  }).listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  const port = typeof address === 'object' && address !== null ? address.port : 0;
  store = createStore<BoardState>({ ...NOTHING_KNOWN, access: 'signed-in' });
  stop = new AbortController();
  const service = createClient({ address: `http://127.0.0.1:${port}` });
  looking = keepLooking({ service, store, now }, stop.signal);
});
afterEach(() => {
  stop.abort();
  server.closeAllConnections();
  server.close();
});

function now(): Moment {
  return { wall: Date.now(), steady: performance.now() };
}

function words(): readonly string[] {
  const { drives, link } = store.get();
  return drives === null ? [] : driveCards(drives, howSure(drives, link, now()).isSure).map(({ word }) => word);
}

const { clearance, ...WITHOUT_VERDICT } = CLEAR_ROLL;

// As a service of another version might answer: types alone would let each of them leave the yes on the wall.
it.each([
  ['/v1/rolls/wheel-1', WITHOUT_VERDICT],
  ['/v1/rolls/wheel-1', { ...CLEAR_ROLL, clearance: { ...clearance, verdict: 'cleared' } }],
  ['/v1/volumes', { volumes: [{ ...lookAtWheel().connected[0], standing: 'nearly-settled' }] }],
  ['/v1/health', { ...lookAtWheel().health, worker: { alive: 'yes', said: null } }],
])('knows no drive to be clear as soon as %s answers otherwise than it knows', async (path, answer) => {
  await vi.waitFor(() => expect(words()).toEqual(['CLEAR']), { timeout: 20_000 });
  answers.set(path, answer);
  looking.lookAgain();
  await vi.waitFor(() => expect(words()).toEqual(['NOT KNOWN']), { timeout: 20_000 });
  expect(store.get().link).toEqual({
    state: 'lost',
    sentence: 'The service answers in a way that this page does not know. Load the page again.',
  });
});
