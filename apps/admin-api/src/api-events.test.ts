import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { NOW, startTestApi, type TestApi } from './api.test-support.ts';

let api: TestApi;
beforeEach(async () => {
  api = await startTestApi();
});
afterEach(async () => api[Symbol.asyncDispose]());

const event = (sentence: string) => ({ type: 'roll.copied', at: NOW, subject: 'wheel-1', sentence }) as const;

interface Frame {
  readonly id?: string;
  readonly event?: string;
  readonly data?: string;
}

/** Reads frames as the HTML standard's section 9.2.6 says, as far as our stream uses it. */
async function* frames(response: Response): AsyncGenerator<Frame> {
  let text = '';
  for await (const chunk of response.body!.pipeThrough(new TextDecoderStream())) {
    text += chunk;
    const parts = text.split('\n\n');
    text = parts.pop() ?? '';
    for (const part of parts) {
      const fields = part.split('\n').flatMap((line) => {
        const [, name, value] = /^(id|event|data): (.*)$/.exec(line) ?? [];
        return name === undefined ? [] : [[name, value]];
      });
      if (fields.length > 0) yield Object.fromEntries(fields);
    }
  }
}

async function take(stream: AsyncGenerator<Frame>, count: number): Promise<Frame[]> {
  const taken: Frame[] = [];
  while (taken.length < count) {
    const { value, done } = await stream.next();
    if (done) break;
    taken.push(value);
  }
  return taken;
}

describe('the event stream', () => {
  it('sends what is kept and then what happens, each with its id', async () => {
    await api.store.publish([event('one'), event('two\nlines')]);
    const response = await api.get('/v1/events?after=0');
    expect(response.headers.get('content-type')).toContain('text/event-stream');
    const stream = frames(response);
    const kept = await take(stream, 2);
    await api.store.publish([event('three')]);
    const [live] = await take(stream, 1);
    expect([...kept, live].map((frame) => JSON.parse(frame?.data ?? '').sentence)).toEqual([
      'one',
      'two\nlines',
      'three',
    ]);
    expect(kept[0]).toMatchObject({ event: 'roll.copied', id: expect.stringMatching(/^\d+-\d+$/) });
    await stream.return(undefined);
  });

  it('goes on after Last-Event-ID, without a gap or a repetition', async () => {
    await api.store.publish([event('one'), event('two'), event('three')]);
    const first = frames(await api.get('/v1/events?after=0'));
    const [one] = await take(first, 1);
    await first.return(undefined);
    const again = frames(await api.get('/v1/events?after=0', { 'last-event-id': one?.id ?? '' }));
    expect((await take(again, 2)).map((frame) => JSON.parse(frame.data ?? '').sentence)).toEqual(['two', 'three']);
    await again.return(undefined);
  });

  it('begins with the present when nothing else is asked for', async () => {
    await api.store.publish([event('old')]);
    const stream = frames(await api.get('/v1/events'));
    await api.store.publish([event('new')]);
    expect(JSON.parse((await take(stream, 1))[0]?.data ?? '').sentence).toBe('new');
    await stream.return(undefined);
  });

  it('refuses a Last-Event-ID that is none', async () => {
    expect((await api.get('/v1/events', { 'last-event-id': 'x y' })).status).toBe(400);
  });

  it('says bye and ends when the service stops, so that stopping never waits for a listener', async () => {
    const stream = frames(await api.get('/v1/events?after=0'));
    const rest = take(stream, 9);
    await api.close();
    expect((await rest).map((frame) => frame.event)).toEqual(['bye']);
  });

  it('is there as a list by page too', async () => {
    await api.store.publish([event('one'), event('two'), event('three')]);
    const page = JSON.parse(await (await api.get('/v1/events/list?limit=2')).text());
    expect(page.events.map((one: { sentence: string }) => one.sentence)).toEqual(['one', 'two']);
    const rest = JSON.parse(await (await api.get(`/v1/events/list?after=${page.next}`)).text());
    expect(rest.events.map((one: { sentence: string }) => one.sentence)).toEqual(['three']);
    expect(JSON.parse(await (await api.get(`/v1/events/list?after=${rest.next}`)).text())).toEqual({
      events: [],
      next: rest.next,
    });
  });
});
