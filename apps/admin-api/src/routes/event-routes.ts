import type { OutgoingHttpHeaders } from 'node:http';
import type { FastifyReply } from 'fastify';
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod';
import { z } from 'zod';
import { EventAnswer, EventId } from '../answers/event-answer.ts';
import type { ApiParts } from '../api-parts.ts';
import { BYE_FRAME } from '../event-stream/event-frame.ts';
import { streamEvents, type StreamLimits } from '../event-stream/stream-events.ts';
import { ApiProblem } from '../problems/api-problem.ts';
import { answersWith } from './answers-with.ts';

const BYE_WITHIN_MS = 1_000;
const LIMITS: StreamLimits = { heartbeatMs: 15_000, stallMs: 30_000 };

/** The events of the service: as a stream that can be resumed, and as a list that can be paged. */
export function eventRoutes({ store }: ApiParts): FastifyPluginAsyncZod {
  return async (app) => {
    const streams = new Set<() => void>();
    // An open stream would keep the server's close waiting for ever.
    app.addHook('preClose', async () => {
      for (const end of streams) end();
    });

    app.get(
      '/v1/events',
      {
        exposeHeadRoute: false,
        schema: {
          operationId: 'streamEvents',
          tags: ['events'],
          summary: 'Events as they happen (server-sent); resumes after `Last-Event-ID` or `after`, else begins now',
          querystring: z.object({ after: EventId.optional() }),
          response: {
            ...answersWith(200, z.string()),
            200: { description: 'A stream of events.', content: { 'text/event-stream': { schema: z.string() } } },
          },
        },
      },
      async (request, reply) => {
        const after = request.headers['last-event-id'] ?? request.query.after ?? '$';
        if (after !== '$' && !EventId.safeParse(after).success) {
          throw new ApiProblem(
            'bad-request',
            'The header Last-Event-ID is not the id of an event; give one as it was received.',
          );
        }
        // While Redis is away this fails before the stream begins, so that the client gets a problem document.
        await store.ping();
        reply.hijack();
        const response = reply.raw;
        response.writeHead(200, {
          ...headersSoFar(reply),
          'content-type': 'text/event-stream; charset=utf-8',
          'cache-control': 'no-store',
          'x-accel-buffering': 'no',
        });
        const stop = new AbortController();
        const end = (): void => {
          response.end(BYE_FRAME);
          stop.abort();
          // A client that reads no more must not keep the service from stopping.
          setTimeout(() => response.destroy(), BYE_WITHIN_MS).unref();
        };
        streams.add(end);
        response.once('close', () => stop.abort());
        try {
          await streamEvents(response, store.follow(String(after), stop.signal), LIMITS);
        } catch (error) {
          if (!stop.signal.aborted)
            request.log.warn({ err: error }, 'An event stream ended early; its client resumes.');
        } finally {
          streams.delete(end);
          response.end();
        }
      },
    );

    app.get(
      '/v1/events/list',
      {
        config: { rows: 'events' },
        schema: {
          operationId: 'listEvents',
          tags: ['events'],
          summary: 'Events by page, oldest first; go on with `after` set to `next`',
          querystring: z.object({
            after: EventId.default('0'),
            limit: z.coerce.number().int().min(1).max(1000).default(200),
          }),
          response: answersWith(200, z.object({ events: z.array(EventAnswer), next: z.string() })),
        },
      },
      async ({ query: { after, limit } }) => {
        const events = await store.eventsAfter(after, limit);
        return { events: [...events], next: events.at(-1)?.id ?? after };
      },
    );
  };
}

/** What was set for every answer, which a stream that is written by hand would lose. */
function headersSoFar(reply: FastifyReply): OutgoingHttpHeaders {
  return Object.fromEntries(Object.entries(reply.getHeaders()).filter(([, value]) => value !== undefined));
}
