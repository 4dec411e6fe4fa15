import type { FastifyInstance, FastifyRequest } from 'fastify';
import type { AuditLog } from './audit-log.ts';

const OPERATOR = 'quayside-operator';
const LONGEST_NAME = 200;

/** Leaves an entry for every request that asked for a change and came past the door, also for one that was refused. */
export function noteChanges(app: FastifyInstance, { audit, now }: { audit: AuditLog; now: () => string }): void {
  app.addHook('onSend', async (request, reply) => {
    if (request.method === 'GET' || request.method === 'HEAD' || reply.statusCode === 401 || reply.statusCode === 421)
      return;
    await audit.add({
      at: now(),
      by: operatorOf(request),
      action: `${request.method} ${request.url}`,
      body: request.body ?? null,
      status: reply.statusCode,
    });
  });
}

/** Who says that they ask. */
export function operatorOf({ headers }: Pick<FastifyRequest, 'headers'>): string {
  const given = String(headers[OPERATOR] ?? '')
    .replaceAll(/\p{C}/gu, '')
    .trim()
    .slice(0, LONGEST_NAME);
  return given === '' ? 'unnamed' : given;
}
