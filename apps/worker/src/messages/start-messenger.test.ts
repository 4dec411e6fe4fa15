import { once } from 'node:events';
import { readFile } from 'node:fs/promises';
import { createServer } from 'node:http';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { deliveryReader, findingsOfDeliveries } from '@quayside/message-journal';
import { advance } from '@quayside/pipeline';
import type { Clearance, PipelineEvent } from '@quayside/shoot';
import { expect, it, onTestFinished } from 'vitest';
import { mountAt, openWorkplace, type Workplace } from '../worker.test-support.ts';
import { type Messenger, type MessengerParts, startMessenger } from './start-messenger.ts';

const SECRET = 'whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw';
const NOW = '2026-03-01T10:00:00.000Z';
const CLEAR = { matter: 'visit-1-clear', severity: 'info', sentence: 'The drive of wheel is clear.' } as const;

interface Receiver {
  /** What arrived, in order: `status kind key`. */
  readonly arrived: string[];
  readonly url: string;
  /** What is answered, one after another; the last one for good. Null: nothing. */
  answers: (number | null)[];
}

/** A real HTTP server that notes what it is sent. */
async function receiver(...answers: (number | null)[]): Promise<Receiver> {
  const arrived: string[] = [];
  const one: Receiver = { arrived, url: '', answers };
  const server = createServer(async (request, response) => {
    let body = '';
    for await (const chunk of request.setEncoding('utf8')) body += String(chunk);
    const status = (one.answers.length > 1 ? one.answers.shift() : one.answers[0]) ?? null;
    arrived.push(`${status} ${(JSON.parse(body) as { type: string }).type} ${String(request.headers['webhook-id'])}`);
    if (status !== null) response.writeHead(status).end();
  }).listen(0, '127.0.0.1');
  await once(server, 'listening');
  onTestFinished(() => {
    server.closeAllConnections();
    server.close();
  });
  const address = server.address();
  return Object.assign(one, { url: `http://127.0.0.1:${typeof address === 'object' ? address?.port : 0}/hook` });
}

/** A port of this machine at which nobody listens. */
async function closedPort(): Promise<number> {
  const server = createServer().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  server.close();
  await once(server, 'close');
  return typeof address === 'object' ? (address?.port ?? 0) : 0;
}

/** A workplace with a webhook for each receiver, by name. */
async function place(receivers: Readonly<Record<string, Receiver>>, rules = '[{}]'): Promise<Workplace> {
  const hooks = Object.entries(receivers).map(
    ([name, { url }]) => `    ${name}: { url: '${url}', secret: { env: HOOK_SECRET }, timeoutSeconds: 1 }`,
  );
  return openWorkplace({ more: ['messages:', `  rules: ${rules}`, '  webhook:', ...hooks, ''].join('\n') });
}

async function open(
  { store, address, configuration }: Workplace,
  { rules = { firstPauseMs: 20 }, log = () => undefined }: Partial<Pick<MessengerParts, 'rules' | 'log'>> = {},
): Promise<Messenger> {
  const environment = { HOOK_SECRET: SECRET };
  const messenger = await startMessenger({ store, address, configuration, environment, isAlone: true, rules, log });
  onTestFinished(() => messenger.stop());
  return messenger;
}

async function saveRoll({ store }: Workplace, clearance: Clearance): Promise<void> {
  await store.changeRoll('wheel-1', (roll) => ({
    ...(roll ??
      advance(
        null,
        {
          type: 'listed',
          roll: {
            id: 'wheel-1',
            shootId: '2026-03-01',
            recorder: 'wheel',
            role: 'camera',
            volume: {
              key: 'v1',
              basis: 'uuid',
              uuid: null,
              serial: null,
              label: 'WHEEL',
              fileSystem: 'exfat',
              sizeInBytes: 1,
            },
            mount: mountAt('/media/WHEEL'),
            fingerprint: 'f1',
            litterCount: 0,
            facts: 'read',
            parcels: [],
            destinations: {},
            findings: [],
          },
        },
        NOW,
      )),
    clearance,
  }));
}

const isClear: Clearance = { verdict: 'clear', judgedAt: NOW, cautions: [] };
const isHeld: Clearance = {
  verdict: 'hold',
  judgedAt: NOW,
  reasons: [{ code: 'ONE_DEVICE', sentence: 'One device.' }],
};

function happened(type: PipelineEvent['type'], subject: string, data: PipelineEvent['data'] = {}): PipelineEvent {
  return { type, at: NOW, subject, sentence: 'Something happened.', data };
}

const states = async ({ configuration }: Workplace): Promise<readonly string[]> =>
  (await deliveryReader(join(configuration.data, 'messages.jsonl'))()).map(
    ({ channel, state, message }) => `${channel} ${message.kind} ${state}`,
  );

/** The machine may be busy: waiting longer is no failure. */
function eventually<Answer>(ask: () => Answer | Promise<Answer>) {
  return expect.poll(ask, { timeout: 20_000 });
}

it('tells a verdict once to each channel, however often it is told of it', async () => {
  const [hook, other] = [await receiver(200), await receiver(200)];
  const here = await place({ hook, other });
  await saveRoll(here, isClear);
  const messenger = await open(here);
  await Promise.all([messenger.tellVerdict('wheel-1', CLEAR), messenger.tellVerdict('wheel-1', CLEAR)]);
  await eventually(() => states(here)).toEqual(['hook roll.clear sent', 'other roll.clear sent']);
  await messenger.tellVerdict('wheel-1', CLEAR);
  await wait(100);
  expect([...hook.arrived, ...other.arrived]).toEqual([
    expect.stringMatching(/^200 roll/),
    expect.stringMatching(/^200/),
  ]);
});

it('tries again under the same key when a receiver fails and hangs, until it takes the letter', async () => {
  const hook = await receiver(500, null, 503, 200);
  const here = await place({ hook });
  await saveRoll(here, isClear);
  await (await open(here)).tellVerdict('wheel-1', CLEAR);
  await eventually(() => states(here)).toEqual(['hook roll.clear sent']);
  expect(hook.arrived.map((one) => one.split(' ')[0])).toEqual(['500', 'null', '503', '200']);
  expect(new Set(hook.arrived.map((one) => one.split(' ')[2])).size).toBe(1);
});

it('a dead channel delays no other, is given up in the end, and the others are told once', async () => {
  const [dead, alive] = [await receiver(null), await receiver(200)];
  const here = await place({ dead, alive });
  const messenger = await open(here, { rules: { attempts: 2, firstPauseMs: 20 } });
  await saveRoll(here, isHeld);
  await messenger.tellVerdict('wheel-1', {
    matter: 'visit-1-hold-one-device',
    severity: 'critical',
    sentence: 'Hold.',
  });
  await eventually(() => states(here)).toContain('alive roll.hold sent');
  expect(await states(here)).toContain('dead roll.hold due');
  await eventually(() => states(here)).toEqual([
    'dead roll.hold given-up',
    'alive roll.hold sent',
    'alive channel.failed sent',
  ]);
  const count = async (type: PipelineEvent['type']): Promise<number> =>
    (await here.store.eventsAfter('0', 100)).filter((event) => event.type === type).length;
  await eventually(() => count('message.sent')).toBe(2);
  expect(await count('message.given-up')).toBe(1);
});

it('two dead channels, a mail server and a receiver that are not there, each end in a finding, and not in messages about each other', async () => {
  const alive = await receiver(200);
  const nobody = await closedPort();
  const here = await openWorkplace({
    more: `messages:
  rules: [{}]
  email:
    mail: { host: 127.0.0.1, port: ${nobody}, tls: never, from: a@studio.example, to: [b@studio.example], timeoutSeconds: 1 }
  webhook:
    hook: { url: 'http://127.0.0.1:${nobody}/', secret: { env: HOOK_SECRET }, timeoutSeconds: 1 }
    alive: { url: '${alive.url}', secret: { env: HOOK_SECRET }, timeoutSeconds: 1 }
`,
  });
  const messenger = await open(here, { rules: { attempts: 2, firstPauseMs: 20 } });
  await saveRoll(here, isHeld);
  await messenger.tellVerdict('wheel-1', { matter: 'visit-1-hold', severity: 'critical', sentence: 'Hold.' });
  const settled = [
    'alive channel.failed sent',
    'alive channel.failed sent',
    'alive roll.hold sent',
    'hook channel.failed given-up',
    'hook roll.hold given-up',
    'mail channel.failed given-up',
    'mail roll.hold given-up',
  ];
  await eventually(async () => (await states(here)).toSorted()).toEqual(settled);
  // What was given up about each other is no matter of its own.
  await wait(500);
  expect((await states(here)).toSorted()).toEqual(settled);
  const deliveries = await deliveryReader(join(here.configuration.data, 'messages.jsonl'))();
  const findings = findingsOfDeliveries(deliveries, ['mail', 'hook', 'alive']);
  expect(findings.map(({ code, severity, channel }) => `${channel} ${severity} ${code}`)).toEqual([
    'mail critical MESSAGE_GIVEN_UP',
    'hook critical MESSAGE_GIVEN_UP',
  ]);
});

it('a lost Redis loses no letter that is to be sent, and sends none again', async () => {
  const hook = await receiver(200);
  const here = await place({ hook });
  await saveRoll(here, isClear);
  const messenger = await open(here);
  await messenger.tellVerdict('wheel-1', CLEAR);
  await eventually(() => states(here)).toEqual(['hook roll.clear sent']);
  hook.answers = [500];
  await here.store.publish([happened('volume.seen', 'v1')]);
  await eventually(() => hook.arrived.length).toBeGreaterThan(2);
  await messenger.stop();
  await here.loseRedis();
  hook.answers = [200];
  // The view is built anew, and the pipeline tells the verdict anew.
  await saveRoll(here, isClear);
  const again = await open(here);
  await again.tellVerdict('wheel-1', { ...CLEAR, matter: 'visit-3-clear' });
  await eventually(() => states(here)).toEqual(['hook roll.clear sent', 'hook drive.seen sent']);
  await wait(100);
  expect(hook.arrived.filter((one) => one.startsWith('200'))).toHaveLength(2);
});

it('takes in what happened while it was away, and nothing twice', async () => {
  const hook = await receiver(200);
  const here = await place({ hook });
  await (await open(here)).stop();
  await here.store.publish([happened('volume.seen', 'v1'), happened('volume.seen', 'v2')]);
  const messenger = await open(here);
  await eventually(() => states(here)).toEqual(['hook drive.seen sent', 'hook drive.seen sent']);
  await messenger.stop();
  await open(here);
  await here.store.publish([happened('volume.seen', 'v1')]);
  await here.store.publish([happened('destination.low', 'backup', { severity: 'warning' })]);
  await eventually(() => states(here)).toContain('hook disk.low sent');
  expect(hook.arrived).toHaveLength(3);
});

it('gathers what a digest wants gathered, and sends it as one', async () => {
  const hook = await receiver(200);
  const here = await place({ hook }, '[{ digestMinutes: 0.005 }]');
  await open(here);
  await here.store.publish([
    happened('volume.seen', 'v1'),
    happened('volume.seen', 'v2'),
    happened('volume.seen', 'v3'),
  ]);
  await eventually(async () => (await states(here)).filter((one) => one.endsWith('sent'))).toHaveLength(3);
  expect(hook.arrived).toEqual([expect.stringMatching(/^200 digest msg-/)]);
});

it('tells nobody that a drive may be recorded over when that is no longer so', async () => {
  const hook = await receiver(500);
  const here = await place({ hook });
  await saveRoll(here, isClear);
  await (await open(here, { rules: { attempts: 4, firstPauseMs: 100 } })).tellVerdict('wheel-1', CLEAR);
  await eventually(() => hook.arrived).toHaveLength(1);
  await saveRoll(here, isHeld);
  hook.answers = [200];
  await eventually(() => states(here)).toEqual(['hook roll.clear superseded']);
  expect(hook.arrived).toHaveLength(1);
});

it('a test goes to the channel that it is asked for, and to no other', async () => {
  const [hook, other] = [await receiver(200), await receiver(200)];
  const here = await place({ hook, other });
  await open(here);
  await here.store.publish([happened('message.asked', 'other', { request: 'r1' })]);
  await eventually(() => states(here)).toEqual(['other test sent']);
  expect([hook.arrived.length, other.arrived.length]).toEqual([0, 1]);
});

it('no secret comes into the journal, the events or the log', async () => {
  const hook = await receiver(500, 200);
  const here = await place({ hook });
  const lines: string[] = [];
  const log = (sentence: string, about: object = {}): void => void lines.push(`${sentence} ${JSON.stringify(about)}`);
  await open(here, { log });
  await here.store.publish([happened('volume.seen', 'v1')]);
  await eventually(() => states(here)).toEqual(['hook drive.seen sent']);
  const journal = await readFile(join(here.configuration.data, 'messages.jsonl'), 'utf8');
  const events = JSON.stringify(await here.store.eventsAfter('0', 100));
  expect(journal).toContain('500');
  for (const text of [journal, events, lines.join('\n')]) expect(text).not.toMatch(/MfKQ9r8GKYqrTwjU|\/hook/);
});
