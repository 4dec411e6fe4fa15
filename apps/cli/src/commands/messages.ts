import { setTimeout as pause } from 'node:timers/promises';
import { ChannelAnswer } from '@quayside/admin-api';
import { composeLetter, MessageKind, sampleMessage } from '@quayside/messages';
import { z } from 'zod';
import { findConfiguration } from '../config.ts';
import { EXIT, type ExitCode } from '../exit-codes.ts';
import { columns } from '../screen/columns.ts';
import { printable } from '../screen/printable.ts';
import { momentText } from '../screen/quantities.ts';
import { remark, say, sayJson } from '../screen/say.ts';
import { reachService, type ServiceApi } from '../service-api/call-api.ts';

interface Options {
  readonly config?: string;
  readonly json?: boolean;
}

const Channels = z.object({ channels: z.array(ChannelAnswer) });
const Deliveries = z.object({
  deliveries: z.array(
    z.object({
      channel: z.string(),
      state: z.string(),
      message: z.object({ kind: z.string(), sentence: z.string(), at: z.string() }),
      failure: z.object({ sentence: z.string() }).nullable(),
      tries: z.number(),
    }),
  ),
});

/** Lists the channels that messages go by, and how they fare. */
export async function listChannels(options: Options): Promise<ExitCode> {
  const service = await reach(options);
  const { channels } = await service.get('/v1/channels', Channels);
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
  const service = await reach(options);
  const query = new URLSearchParams({ limit: String(options.last) });
  if (options.channel !== undefined) query.set('channel', options.channel);
  if (options.state !== undefined) query.set('state', options.state);
  const { deliveries } = await service.get(`/v1/deliveries?${query.toString()}`, Deliveries);
  const rows = deliveries.toReversed();
  if (options.json === true) sayJson(rows);
  else if (rows.length === 0) say('There is no such message.');
  else for (const row of rows) say(...linesOf(row));
  return EXIT.ok;
}

function linesOf({
  channel,
  state,
  tries,
  message,
  failure,
}: z.output<typeof Deliveries>['deliveries'][number]): readonly string[] {
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
  const service = await reach(options);
  const path = `/v1/channels/${encodeURIComponent(name)}/test`;
  const { thread } = await service.post(path, {}, z.object({ thread: z.string() }));
  const deadline = performance.now() + WAIT_MS;
  while (performance.now() < deadline && !signal.aborted) {
    const query = `/v1/deliveries?thread=${encodeURIComponent(thread)}`;
    const [delivery] = (await service.get(query, Deliveries)).deliveries;
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

function channelRow({ name, kind, address, due, waiting, lastSentAt }: ChannelAnswer): readonly string[] {
  const toSend = waiting === 0 ? String(due) : `${due}, ${waiting} later`;
  return [name, kind, printable(address), toSend, lastSentAt === null ? 'never' : momentText(lastSentAt)];
}

function troubles(channels: readonly ChannelAnswer[]): readonly string[] {
  return channels.flatMap(({ name, failure }) => (failure === null ? [] : [`${name}: ${printable(failure)}`]));
}

async function reach({ config }: Options): Promise<ServiceApi> {
  const { configuration } = await findConfiguration(config);
  return reachService(configuration);
}
