import { execFile } from 'node:child_process';
import { createServer } from 'node:http';
import { once } from 'node:events';
import { mkdir, readFile, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { promisify } from 'node:util';
import {
  type ApiClient,
  checkAnswer,
  createClient,
  followEvents,
  lastEvents,
  NoAnswerError,
  ProblemError,
  readEvents,
} from '@quayside/api-client';
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import { z } from 'zod';
import { addRoll, NOW, startTestApi, TOKEN, type TestApi } from './api.test-support.ts';
import { openCutLine } from './cut-line.test-support.ts';

let api: TestApi;
let client: ApiClient;
beforeAll(async () => {
  api = await startTestApi();
  client = createClient({ address: api.url, token: TOKEN, operator: () => 'ada' });
});
afterAll(() => api[Symbol.asyncDispose]());

const event = (sentence: string) => ({ type: 'roll.copied', at: NOW, subject: 'wheel-1', sentence }) as const;

async function failureOf(call: Promise<unknown>): Promise<unknown> {
  return call.then(
    () => {
      throw new Error('it went well');
    },
    (error: unknown) => error,
  );
}

describe('a call', () => {
  it('asks with path and query, and answers what the API says', async () => {
    await addRoll(api.store, { id: 'wheel-1' });
    const roll = await client.get('/v1/rolls/{id}', { path: { id: 'wheel-1' } });
    expect(roll).toEqual(await (await api.get('/v1/rolls/wheel-1')).json());
    expect(roll.clearance.verdict).toBe('hold');
    expect((await client.get('/v1/rolls', { query: { verdict: 'clear' } })).rolls).toEqual([]);
  });

  it('takes the 503 of health for the answer that it is, and gives the service’s clock with it', async () => {
    const { answer, headers } = await client.ask('get', '/v1/health');
    expect(answer).toMatchObject({ ok: false, redis: 'reachable', worker: { alive: false } });
    expect(Date.parse(headers.get('date') ?? '')).toBeGreaterThan(0);
  });

  it('rejects with the problem, its sentence and its kind', async () => {
    const error = await failureOf(client.get('/v1/rolls/{id}', { path: { id: 'kiln-9' } }));
    expect(error).toBeInstanceOf(ProblemError);
    const refused = error as ProblemError;
    expect([refused.is('roll-unknown'), refused.is('shoot-unknown')]).toEqual([true, false]);
    expect(refused).toMatchObject({ code: 'ROLL_UNKNOWN', retry: 'never', problem: { status: 404 } });
    expect(refused.message).toBe(refused.problem.detail);
    const stranger = createClient({ address: api.url, token: 'wrong' });
    expect(await failureOf(stranger.get('/v1/rolls'))).toMatchObject({ code: 'TOKEN_NEEDED' });
  });

  it('tells what answers nothing, too late, in pieces, or is something else', async () => {
    const other = createServer((request, response) => {
      if (request.url === '/v1/rolls') return void response.writeHead(404, { 'content-type': 'text/html' }).end('<p>');
      if (request.url === '/v1/shoots') return void response.writeHead(200, { 'content-length': '99' }).end('{"sho');
      if (request.url === '/v1/plugins') return void response.writeHead(200).end('no JSON');
      if (request.url === '/v1/steps') return void response.writeHead(200).end('null');
      if (request.url === '/v1/events') return void response.writeHead(503).end('{}');
      return undefined;
    }).listen(0, '127.0.0.1');
    await once(other, 'listening');
    const address = other.address();
    const at = `http://127.0.0.1:${typeof address === 'object' && address !== null ? address.port : 0}`;
    const odd = createClient({ address: at, answersWithinMs: 300 });
    expect(await failureOf(odd.get('/v1/rolls'))).toMatchObject({ code: 'NOT_QUAYSIDE', retry: 'never' });
    expect(await failureOf(odd.get('/v1/shoots'))).toMatchObject({ code: 'ANSWER_BROKEN_OFF', retry: 'later' });
    expect(await failureOf(odd.get('/v1/plugins'))).toMatchObject({ code: 'NOT_QUAYSIDE' });
    expect(await failureOf(odd.get('/v1/steps'))).toMatchObject({ code: 'NOT_QUAYSIDE' });
    expect(await failureOf(odd.open('/v1/events', {}))).toMatchObject({ code: 'NOT_QUAYSIDE', retry: 'later' });
    expect(await failureOf(odd.get('/v1/channels'))).toMatchObject({ code: 'NOT_RUNNING', retry: 'later' });
    other.closeAllConnections();
    other.close();
    await once(other, 'close');
    expect(await failureOf(odd.get('/v1/rolls'))).toBeInstanceOf(NoAnswerError);
  });

  it('ends with the reason of its own signal', async () => {
    const stop = new AbortController();
    const reason = new Error('the operator pressed Ctrl-C');
    stop.abort(reason);
    expect(await failureOf(client.get('/v1/rolls', { signal: stop.signal }))).toBe(reason);
  });

  it('gives no answer that is not to the letter what somebody may act on', async () => {
    const answer = await client.get('/v1/rolls/{id}', { path: { id: 'wheel-1' } });
    const Verdict = z.object({ clearance: z.object({ verdict: z.enum(['clear', 'hold']) }) });
    expect(checkAnswer(Verdict, answer)).toEqual({ clearance: { verdict: 'hold' } });
    const ofAnotherVersion = { ...answer, clearance: { verdict: 'yes' } };
    expect(() => checkAnswer(Verdict, ofAnotherVersion)).toThrow(NoAnswerError);
  });
});

describe('a change', () => {
  it('is carried out once also when its answer is lost on the way, and names who asked', async () => {
    await using line = await openCutLine(api.url);
    const overLine = createClient({ address: line.url, token: TOKEN, operator: () => 'Zoë ✂' });
    line.cutNextAnswer();
    const shoot = await overLine.post('/v1/shoots', { body: { name: 'Glaze day' } });
    const { shoots } = await client.get('/v1/shoots');
    expect(shoots.filter(({ name }) => name === 'Glaze day').map(({ id }) => id)).toEqual([shoot.id]);
    const { entries } = await client.get('/v1/audit');
    // Two requests, of which the second was only answered again.
    expect(entries.map(({ by, status }) => [by, status])).toEqual([
      ['Zoë ?', 201],
      ['Zoë ?', 201],
    ]);
  });

  it('whose answer must not be kept goes without a key, and then once only', async () => {
    await using line = await openCutLine(api.url);
    const overLine = createClient({ address: line.url, token: TOKEN, operator: () => 'wall screen' });
    line.cutNextAnswer();
    const lost = await failureOf(overLine.post('/v1/session', { idempotencyKey: null }));
    expect(lost).toMatchObject({ code: 'NOT_RUNNING' });
    const { entries } = await client.get('/v1/audit');
    expect(entries.filter(({ by }) => by === 'wall screen')).toHaveLength(1);
  });

  it('that is asked for again under its key is answered the same, and without it is another', async () => {
    const body = { name: 'Slip day' };
    const first = await client.post('/v1/shoots', { body, idempotencyKey: 'slip-day-1' });
    expect(await client.post('/v1/shoots', { body, idempotencyKey: 'slip-day-1' })).toEqual(first);
    const again = await failureOf(client.post('/v1/shoots', { body }));
    expect(again instanceof ProblemError && again.is('shoot-exists')).toBe(true);
  });
});

describe('a list in pages', () => {
  it('comes whole, each row once, and goes on from a cursor', async () => {
    const ids = ['hands-1', 'hands-2', 'hands-3', 'hands-4', 'hands-5'];
    for (const id of ids) await addRoll(api.store, { id, shootId: 'throwing' });
    const pages: string[][] = [];
    const wanted = { query: { shoot: 'throwing', limit: 2 } };
    let second: string | null = null;
    for await (const { rolls, next } of client.pages('/v1/rolls', wanted)) {
      second ??= next;
      pages.push(rolls.map(({ id }) => id));
    }
    expect(pages.map((page) => page.length)).toEqual([2, 2, 1]);
    expect(pages.flat().toSorted()).toEqual(ids);
    const rest: string[] = [];
    for await (const { rolls } of client.pages('/v1/rolls', { query: { ...wanted.query, cursor: second ?? '' } }))
      rest.push(...rolls.map(({ id }) => id));
    expect(rest).toEqual(pages.slice(1).flat());
  });
});

describe('events', () => {
  it('come as they happen, and go on after a broken line without a gap or a repetition', async () => {
    await using line = await openCutLine(api.url);
    const overLine = createClient({ address: line.url, token: TOKEN });
    const after = (await lastEvents(client, { after: '0', most: 1 })).at(-1)?.id ?? '0';
    const stop = new AbortController();
    const heard: string[] = [];
    const remarks: string[] = [];
    await api.store.publish([event('one')]);
    const remark = (sentence: string): number => remarks.push(sentence);
    for await (const { sentence } of followEvents(() => overLine, { after, signal: stop.signal, remark })) {
      heard.push(sentence);
      if (sentence === 'one') {
        line.cutAll();
        await api.store.publish([event('two'), event('three')]);
      }
      if (sentence === 'three') await api.store.publish([event('four')]);
      if (sentence === 'four') stop.abort();
    }
    expect(heard).toEqual(['one', 'two', 'three', 'four']);
    expect(remarks.at(-1)).toBe('The service is back.');
    expect(remarks).toHaveLength(2);
  });

  it('end at once with the signal, also while nothing happens', async () => {
    const stop = new AbortController();
    const stream = readEvents(client, { after: null, signal: stop.signal, opened: () => stop.abort() });
    const failed = await failureOf(stream.next());
    expect(failed).toBe(stop.signal.reason);
  });

  it('leave no stream open when nobody listens any longer', async () => {
    await using line = await openCutLine(api.url);
    const overLine = createClient({ address: line.url, token: TOKEN });
    await api.store.publish([event('five')]);
    for await (const { id } of readEvents(overLine, { after: '0', signal: new AbortController().signal })) {
      expect([id !== '', line.openCount()]).toEqual([true, 1]);
      break;
    }
    await vi.waitFor(() => expect(line.openCount()).toBe(0), { timeout: 10_000 });
  });

  it('are not waited for with a token that does not count', async () => {
    const stranger = createClient({ address: api.url, token: 'wrong' });
    const stream = followEvents(() => stranger, { signal: new AbortController().signal });
    expect(await failureOf(stream.next())).toMatchObject({ code: 'TOKEN_NEEDED' });
  });

  it('of before are the last ones, oldest first, however many pages they fill', async () => {
    const [begin] = (await lastEvents(client, { after: '0', most: 1 })).slice(-1);
    const sentences = Array.from({ length: 1_203 }, (_, at) => `number ${at}`);
    await api.store.publish(sentences.map(event));
    const last = await lastEvents(client, { after: begin?.id ?? '0', most: 205 });
    expect(last.map(({ sentence }) => sentence)).toEqual(sentences.slice(-205));
  });
});

it('the example of its README runs as it is written', async () => {
  const readme = await readFile(join(CLIENT, 'README.md'), 'utf8');
  const example = /```ts\n([\s\S]*?)```/.exec(readme)?.[1] ?? '';
  const folder = join(CLIENT, '.results/example');
  await mkdir(folder, { recursive: true });
  const file = join(folder, 'example.ts');
  await writeFile(file, example);
  const env = { ...process.env, QUAYSIDE_ADDRESS: api.url, QUAYSIDE_TOKEN: TOKEN };
  const running = promisify(execFile)(process.execPath, ['--conditions=source', file], { env });
  // It ends with the next event.
  const telling = setInterval(() => void api.store.publish([event('The kiln is full.')]), 200);
  const { stdout } = await running.finally(() => clearInterval(telling));
  await rm(folder, { recursive: true });
  expect(stdout.split('\n').slice(0, 2)).toEqual(['wheel-1 hold', 'The service knows no roll "no-such-roll".']);
  expect(stdout).toMatch(/roll\.copied The kiln is full\.\n$/);
});

const CLIENT = join(import.meta.dirname, '../../../packages/api-client');
