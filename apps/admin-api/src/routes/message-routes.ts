import { randomUUID } from 'node:crypto';
import { Delivery } from '@quayside/message-journal';
import { describeChannels, MessageKind } from '@quayside/messages';
import { FolderName, Instant, Severity } from '@quayside/shoot';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import type { ApiParts } from '../api-parts.ts';
import { ApiProblem } from '../problems/api-problem.ts';
import { answersWith } from './answers-with.ts';
import { cursorOf, placeOf } from './page-cursor.ts';

/** A channel, and how its messages fare. */
export const ChannelAnswer = z.object({
  name: z.string(),
  kind: z.enum(['email', 'webhook', 'command']),
  /** Where its messages go; of a webhook only the host. */
  address: z.string(),
  /** Messages that wait for the end of quiet hours or a digest, and those that are to be sent or tried again. */
  waiting: z.number().int().nonnegative(),
  due: z.number().int().nonnegative(),
  lastSentAt: Instant.nullable(),
  /** Why the newest message that is to be sent, or was given up, has not been sent. */
  failure: z.string().nullable(),
});
export type ChannelAnswer = z.output<typeof ChannelAnswer>;

const Query = z.object({
  channel: z.string().max(100).optional(),
  state: Delivery.shape.state.optional(),
  kind: MessageKind.optional(),
  severity: Severity.optional(),
  shoot: z.string().max(200).optional(),
  thread: z.string().max(400).optional(),
  limit: z.coerce.number().int().min(1).max(1000).default(100),
  cursor: z.string().max(1000).optional(),
});

/** The channels that messages go by, what became of each message, and tests of a channel. */
export function messageRoutes({ configuration, deliveries, store, now }: ApiParts): FastifyPluginAsyncZod {
  const channels = describeChannels(configuration.messages);
  return async (app) => {
    app.get(
      '/v1/channels',
      {
        config: { rows: 'channels' },
        schema: {
          operationId: 'listChannels',
          tags: ['messages'],
          summary: 'The channels that messages go by, and how they fare; no secret is shown',
          response: answersWith(200, z.object({ channels: z.array(ChannelAnswer) })),
        },
      },
      async () => {
        const all = await deliveries();
        return { channels: channels.map((channel) => ({ ...channel, ...standingOf(channel.name, all) })) };
      },
    );

    app.post(
      '/v1/channels/:name/test',
      {
        schema: {
          operationId: 'testChannel',
          tags: ['messages'],
          summary: 'Send a test by one channel; what became of it is then listed under its thread',
          params: z.object({ name: FolderName }),
          body: z.strictObject({}).nullish(),
          response: answersWith(202, z.object({ thread: z.string() })),
        },
      },
      async ({ params: { name } }, reply) => {
        if (!channels.some((channel) => channel.name === name)) throw unknownChannel(name);
        const request = randomUUID();
        const sentence = `A test message by ${name} was asked for.`;
        await store.publish([{ type: 'message.asked', at: now(), subject: name, sentence, data: { request } }]);
        const thread = `test/${request}`;
        return reply
          .code(202)
          .header('location', `/v1/deliveries?thread=${encodeURIComponent(thread)}`)
          .send({ thread });
      },
    );

    app.get(
      '/v1/deliveries',
      {
        config: { rows: 'deliveries' },
        schema: {
          operationId: 'listDeliveries',
          tags: ['messages'],
          summary: 'What was told to whom, and what is still to be sent, the newest first',
          querystring: Query,
          response: answersWith(200, z.object({ deliveries: z.array(Delivery), next: z.string().nullable() })),
        },
      },
      async ({ query: { limit, cursor, ...wanted } }) => {
        const found = (await deliveries()).filter((delivery) => isWanted(delivery, wanted)).toReversed();
        const after = cursor === undefined ? null : (placeOf(cursor, 1)[0] ?? '');
        // A delivery that was cut off the journal since was one of the oldest: nothing comes after it.
        const start = after === null ? 0 : found.findIndex(({ id }) => id === after) + 1 || found.length;
        const page = found.slice(start, start + limit);
        const last = page.at(-1);
        return {
          deliveries: page,
          next: last !== undefined && start + limit < found.length ? cursorOf([last.id]) : null,
        };
      },
    );
  };
}

function isWanted(
  { channel, state, thread, message }: Delivery,
  wanted: Omit<z.output<typeof Query>, 'limit' | 'cursor'>,
): boolean {
  return (
    (wanted.channel === undefined || channel === wanted.channel) &&
    (wanted.state === undefined || state === wanted.state) &&
    (wanted.thread === undefined || thread === wanted.thread) &&
    (wanted.kind === undefined || message.kind === wanted.kind) &&
    (wanted.severity === undefined || message.severity === wanted.severity) &&
    (wanted.shoot === undefined || message.shootId === wanted.shoot)
  );
}

function standingOf(
  name: string,
  all: readonly Delivery[],
): Pick<ChannelAnswer, 'waiting' | 'due' | 'lastSentAt' | 'failure'> {
  const own = all.filter(({ channel }) => channel === name);
  const newest = own.findLast((delivery) => isUnsent(delivery) || delivery.state === 'sent');
  return {
    waiting: own.filter(({ state }) => state === 'waiting').length,
    due: own.filter(({ state }) => state === 'due').length,
    lastSentAt: own.reduce<string | null>(
      (last, { state, settledAt }) => (state === 'sent' && (settledAt ?? '') > (last ?? '') ? settledAt : last),
      null,
    ),
    failure: newest !== undefined && isUnsent(newest) ? (newest.failure?.sentence ?? null) : null,
  };
}

function isUnsent({ state }: Delivery): boolean {
  return state === 'due' || state === 'given-up';
}

function unknownChannel(name: string): ApiProblem {
  return new ApiProblem('channel-unknown', `The configuration has no channel "${name}".`);
}
