import { setTimeout as pause } from 'node:timers/promises';
import type { AnswerOf, Given } from '@quayside/api-client';
import { composeLetter, MessageKind, sampleMessage } from '@quayside/messages';
import { findConfiguration } from '../config.ts';
import { EXIT, type ExitCode } from '../exit-codes.ts';
import { columns } from '../screen/columns.ts';
import { printable } from '../screen/printable.ts';
import { momentText } from '../screen/quantities.ts';
import { remark, say, sayJson } from '../screen/say.ts';
import { reachServiceOf } from '../service-api/reach-service.ts';

interface Options {
  readonly config?: string;
  readonly json?: boolean;
}

type Delivery = AnswerOf<'get', '/v1/deliveries'>['deliveries'][number];
type DeliveryQuery = NonNullable<Given<'get', '/v1/deliveries'>['query']>;
type Channel = AnswerOf<'get', '/v1/channels'>['channels'][number];

/** Lists the channels that messages go by, and how they fare. */
export async function listChannels(options: Options): Promise<ExitCode> {
  const { channels } = await (await reachServiceOf(options)).get('/v1/channels');
  if (options.json === true) sayJson(channels);
  else if (channels.length === 0)
    say('No channel is configured, so nobody is told. See `messages` in the configuration.');
  else
    say(
      ...columns([['CHANNEL', 'KIND', 'TO', 'TO SEND', 'LAST SENT'], ...channels.map(channelRow)]),
      ...troubles(channels),
    );
  return EXIT.ok;
}

/** Lists what was told to whom, what became of it, and why it was not sent. */
export async function listMessages(
  options: Options & { readonly channel?: string; readonly state?: string; readonly last: number },
): Promise<ExitCode> {
  const { channel, state, last } = options;
  const query = {
    limit: last,
    ...(channel === undefined ? {} : { channel }),
    // What is no state is refused by the service, which names those there are.
    ...(state === undefined ? {} : { state: state as NonNullable<DeliveryQuery['state']> }),
  };
  const { deliveries } = await (await reachServiceOf(options)).get('/v1/deliveries', { query });
  const rows = deliveries.toReversed();
  if (options.json === true) sayJson(rows);
  else if (rows.length === 0) say('There is no such message.');
  else for (const row of rows) say(...linesOf(row));
  return EXIT.ok;
}

function linesOf({ channel, state, tries, message, failure }: Delivery): readonly string[] {
  const line = `${momentText(message.at)}  ${state}  ${channel}  ${message.kind}  ${printable(message.sentence)}`;
  return failure === null || state === 'sent'
    ? [line]
    : [line, `  tried ${tries} times: ${printable(failure.sentence)}`];
}

/** Shows a message of a kind as it would be sent, made up; needs no service. */
export async function previewMessage(kind: string, options: Options & { readonly html?: boolean }): Promise<ExitCode> {
  const known = MessageKind.safeParse(kind);
  if (!known.success) {
    remark(`There is no kind of message "${kind}". The kinds are ${MessageKind.options.join(', ')}.`);
    return EXIT.usage;
  }
  const timeZone =
    options.config === undefined ? null : (await findConfiguration(options.config)).configuration.messages.timeZone;
  const letter = composeLetter({
    id: 'msg-000000000000000000000000',
    messages: [sampleMessage(known.data, new Date().toISOString())],
    timeZone: timeZone ?? Intl.DateTimeFormat().resolvedOptions().timeZone,
  });
  if (options.json === true) sayJson(letter);
  else if (options.html === true) say(letter.html.trimEnd());
  else say(`Subject: ${letter.subject}`, '', letter.text.trimEnd());
  return EXIT.ok;
}

/** Sends a test by one channel and waits until it is known what became of it. */
export async function testChannel(name: string, options: Options, signal: AbortSignal): Promise<ExitCode> {
  const service = await reachServiceOf(options);
  const { thread } = await service.post('/v1/channels/{name}/test', { path: { name } });
  const deadline = performance.now() + WAIT_MS;
  while (performance.now() < deadline && !signal.aborted) {
    const [delivery] = (await service.get('/v1/deliveries', { query: { thread } })).deliveries;
    if (delivery?.state === 'sent') {
      say(`The test was sent by ${name}. See whether it has arrived.`);
      return EXIT.ok;
    }
    if (delivery?.failure != null) {
      say(`The test could not be sent by ${name}. ${printable(delivery.failure.sentence)}`);
      return EXIT.failed;
    }
    await pause(200, undefined, { signal }).catch(() => undefined);
  }
  say(`Nothing has come of the test by ${name} yet. See "quayside channels", and whether the worker runs.`);
  return EXIT.failed;
}

/** As long as a channel may take for one try, and a little. */
const WAIT_MS = 125_000;

function channelRow({ name, kind, address, due, waiting, lastSentAt }: Channel): readonly string[] {
  const toSend = waiting === 0 ? String(due) : `${due}, ${waiting} later`;
  return [name, kind, printable(address), toSend, lastSentAt === null ? 'never' : momentText(lastSentAt)];
}

function troubles(channels: readonly Channel[]): readonly string[] {
  return channels.flatMap(({ name, failure }) => (failure === null ? [] : [`${name}: ${printable(failure)}`]));
}
