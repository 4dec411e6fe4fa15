import { expectTypeOf, it } from 'vitest';
import { type AnswerOf, createClient } from '../index.ts';

const client = createClient({ address: 'http://127.0.0.1:1' });

// Never run: what must not compile is checked by `npm run check:types`, which fails for an unused @ts-expect-error.
async function wrongCalls(): Promise<void> {
  // @ts-expect-error -- there is no such path
  await client.get('/v1/reels');
  // @ts-expect-error -- nothing can be posted there
  await client.post('/v1/rolls');
  // @ts-expect-error -- it needs the id of a roll
  await client.get('/v1/rolls/{id}');
  // @ts-expect-error -- under the name that the path gives it
  await client.get('/v1/rolls/{id}', { path: { roll: 'wheel-1' } });
  // @ts-expect-error -- no such verdict
  await client.get('/v1/rolls', { query: { verdict: 'maybe' } });
  // @ts-expect-error -- no such name in the query
  await client.get('/v1/rolls', { query: { colour: 'red' } });
  // @ts-expect-error -- it needs a query
  await client.get('/v1/capacity');
  // @ts-expect-error -- it needs a body
  await client.post('/v1/shoots');
  // @ts-expect-error -- a name is text
  await client.post('/v1/shoots', { body: { name: 7 } });
  // @ts-expect-error -- no such value in the body
  await client.post('/v1/shoots', { body: { name: 'Kiln day', title: 'Kiln day' } });
  // @ts-expect-error -- what only looks takes no key
  await client.get('/v1/shoots', { idempotencyKey: 'k' });
  // @ts-expect-error -- an operation with a body but no such method
  await client.ask('delete', '/v1/shoots');
  // @ts-expect-error -- that list comes whole
  client.pages('/v1/codes');
  // @ts-expect-error -- a stream is opened, not got
  await client.get('/v1/events');
}

// Never run either: each may be left out where the description lets it.
async function rightCalls(): Promise<void> {
  expectTypeOf((await client.get('/v1/health')).redis).toEqualTypeOf<'reachable' | 'away'>();
  expectTypeOf((await client.post('/v1/rolls/{id}/judge', { path: { id: 'wheel-1' } })).sentence).toBeString();
  expectTypeOf((await client.get('/v1/rolls')).next).toEqualTypeOf<string | null>();
  for await (const { rolls } of client.pages('/v1/rolls', { query: { verdict: 'hold', limit: 2 } }))
    expectTypeOf(rolls.length).toBeNumber();
}

it('gives each operation the types of its own answer, query and body', () => {
  expectTypeOf(wrongCalls).returns.resolves.toBeVoid();
  expectTypeOf(rightCalls).returns.resolves.toBeVoid();
  type Roll = AnswerOf<'get', '/v1/rolls'>['rolls'][number];
  expectTypeOf<Roll['clearance']['verdict']>().toEqualTypeOf<'clear' | 'hold'>();
});
