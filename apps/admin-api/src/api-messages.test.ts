import { join } from 'node:path';
import { openJournal } from '@quayside/message-journal';
import { sampleMessage } from '@quayside/messages';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { z } from 'zod';
import { NOW, startTestApi, type TestApi } from './api.test-support.ts';

let api: TestApi;
beforeEach(async () => {
  api = await startTestApi();
});
afterEach(async () => api[Symbol.asyncDispose]());

const Page = z.object({
  deliveries: z.array(z.looseObject({ thread: z.string(), channel: z.string(), state: z.string() })),
  next: z.string().nullable(),
});

async function deliveries(query = ''): Promise<z.output<typeof Page>> {
  return Page.parse(await (await api.get(`/v1/deliveries${query}`)).json());
}

/** A clear roll and five drives, told by both channels; the webhook has failed at the roll. */
async function tell(): Promise<void> {
  const journal = await openJournal(join(api.folder, 'messages.jsonl'));
  const to = ['planning', 'bell'].map((channel) => ({ channel, dueAt: null }));
  const at = { now: NOW, event: null };
  await journal.accept({ thread: 'roll/a', matter: 'clear', message: sampleMessage('roll.clear', NOW) }, () => to, at);
  for (let drive = 0; drive < 5; drive += 1) {
    const message = sampleMessage('drive.seen', NOW);
    await journal.accept({ thread: `drive/${drive}`, matter: 'seen', message }, () => to.slice(1), at);
  }
  const [hook, bell] = journal.toSend();
  await journal.noteTry(hook?.letter ?? '', { at: NOW, code: 'CHANNEL_REFUSED', why: 'It answered 500.' });
  await journal.settle(bell?.letter ?? '', 'sent', NOW);
  await journal.close();
}

it('lists the channels and how they fare, without anything secret', async () => {
  await tell();
  const text = await (await api.get('/v1/channels')).text();
  expect(JSON.parse(text)).toEqual({
    channels: [
      { name: 'bell', kind: 'command', address: '/bin/ring', waiting: 0, due: 5, lastSentAt: NOW, failure: null },
      {
        name: 'planning',
        kind: 'webhook',
        address: 'https://plan.example.org',
        waiting: 0,
        due: 1,
        lastSentAt: null,
        failure: 'It answered 500.',
      },
    ],
  });
  expect(text).not.toContain('T0PSECRET');
});

it('shows the configuration in force, without anything secret, to admins alone', async () => {
  const text = await (await api.get('/v1/configuration')).text();
  expect(JSON.parse(text)).toMatchObject({
    configuration: {
      copies: 2,
      destinations: [{ name: 'primary' }, { name: 'backup' }],
      messages: {
        webhook: { planning: { url: 'https://plan.example.org/***', secret: { env: 'HOOK' }, timeoutSeconds: 15 } },
        command: { bell: { command: ['/bin/ring', '***'] } },
      },
    },
  });
  expect(text).not.toContain('T0PSECRET');
});

it('lists deliveries, the newest first, by filter and by page', async () => {
  expect(await deliveries()).toEqual({ deliveries: [], next: null });
  await tell();
  expect((await deliveries('?channel=planning')).deliveries).toMatchObject([
    { thread: 'roll/a', state: 'due', tries: 1 },
  ]);
  expect((await deliveries('?state=sent&kind=roll.clear')).deliveries).toMatchObject([{ channel: 'bell', tries: 1 }]);
  expect((await deliveries('?shoot=2026-03-01&severity=info')).deliveries).toHaveLength(2);
  const threads: string[] = [];
  for (let cursor: string | null = ''; cursor !== null;) {
    const page: z.output<typeof Page> = await deliveries(`?limit=2${cursor === '' ? '' : `&cursor=${cursor}`}`);
    threads.push(...page.deliveries.map(({ thread }) => thread));
    cursor = page.next;
  }
  expect(threads).toEqual(['drive/4', 'drive/3', 'drive/2', 'drive/1', 'drive/0', 'roll/a', 'roll/a']);
});

it.each(['?limit=0', '?state=lost', '?kind=roll.cleared', '?cursor=nonsense'])(
  'refuses the query %s',
  async (query) => {
    expect((await api.get(`/v1/deliveries${query}`)).status).toBe(400);
  },
);

it('asks for a test of a channel, and says under which thread it is found', async () => {
  const answer = await api.post('/v1/channels/bell/test');
  expect(answer.status).toBe(202);
  const { thread } = z.object({ thread: z.string() }).parse(await answer.json());
  expect(answer.headers.get('location')).toBe(`/v1/deliveries?thread=${encodeURIComponent(thread)}`);
  const [event] = await api.store.eventsAfter('0', 10);
  expect(event).toMatchObject({ type: 'message.asked', subject: 'bell', data: { request: thread.slice(5) } });
});

it('knows no channel that is not configured', async () => {
  const answer = await api.post('/v1/channels/horn/test');
  expect([answer.status, await answer.json()]).toMatchObject([404, { type: '/problems/channel-unknown' }]);
});

it('tells of messages that were given up among the findings, of all and of their shoot, until the channel sends again', async () => {
  await tell();
  const journal = await openJournal(join(api.folder, 'messages.jsonl'));
  const [hook] = journal.toSend();
  const message = sampleMessage('roll.clear', NOW);
  const shootId = message.shootId ?? '';
  await api.store.saveShoot({ id: shootId, name: shootId, openedAt: NOW, closedAt: null, named: false });
  const codes = async (path: string): Promise<readonly unknown[]> =>
    z
      .object({ findings: z.array(z.object({ code: z.string(), why: z.string(), rollId: z.null() })) })
      .parse(await (await api.get(path)).json())
      .findings.map(({ code, why }) => [code, why.includes('It answered 500.')]);
  expect(await codes('/v1/findings')).toEqual([]);
  await journal.settle(hook?.letter ?? '', 'given-up', NOW);
  for (const path of ['/v1/findings', `/v1/shoots/${shootId}/findings`])
    expect(await codes(path)).toEqual([['MESSAGE_GIVEN_UP', true]]);
  const later = NOW.replace(/\.000Z$/, '.001Z');
  await journal.accept({ thread: 'roll/b', matter: 'clear', message }, () => [{ channel: 'planning', dueAt: null }], {
    now: later,
    event: null,
  });
  await journal.settle(journal.toSend().find(({ channel }) => channel === 'planning')?.letter ?? '', 'sent', later);
  await journal.close();
  expect(await codes('/v1/findings')).toEqual([]);
});
