import { createHash } from 'node:crypto';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { ApiProblem } from '../problems/api-problem.ts';
import { isReading } from './sparse-fields.ts';

/**
 * Tags every answer that is looked up with a strong entity tag made from its content, answers 304 to whom has it already, and
 * lets a change be asked for only while the thing is as it was seen (RFC 9110, sections 8.8.3 and 13.1). The look at the thing and
 * the change are two steps: what happens between them is not seen, and is judged by the change's own rules.
 */
export function tagAnswers(app: FastifyInstance): void {
  app.addHook('preHandler', async (request) => {
    const wanted = request.headers['if-match'];
    if (wanted === undefined || isReading(request.method)) return;
    const tag = await tagOfChanged(app, request);
    // A thing that is not there is told by the change itself.
    if (tag === null) return;
    if (wanted.trim() === '*' || tagsIn(wanted).includes(tag)) return;
    throw new ApiProblem(
      'changed-since',
      'It is not as you saw it any more, so nothing was done. Look at it again, and ask again if you still want it.',
    );
  });

  app.addHook('onSend', async (request, reply, payload) => {
    if (reply.statusCode !== 200 || typeof payload !== 'string' || !isReading(request.method)) return payload;
    const tag = `"${createHash('sha256').update(payload).digest('base64url').slice(0, 27)}"`;
    // Kept by nobody without asking again: an old verdict must never pass for a new one.
    reply.header('etag', tag).header('cache-control', 'private, no-cache');
    const known = request.headers['if-none-match'];
    if (known === undefined || !(known.trim() === '*' || tagsIn(known).map(withoutWeakness).includes(tag)))
      return payload;
    reply.code(304).removeHeader('content-type').removeHeader('content-length');
    return '';
  });
}

/** The address of the thing that a change is about, as addresses are built here: that of the change without its verb. */
export function addressOfChanged(address: string): string {
  return /\/(?::\w+|\{\w+\})$/.test(address) ? address : address.slice(0, address.lastIndexOf('/'));
}

async function tagOfChanged(app: FastifyInstance, request: FastifyRequest): Promise<string | null> {
  const pattern = addressOfChanged(request.routeOptions.url ?? '');
  if (pattern === '' || !app.hasRoute({ method: 'GET', url: pattern }))
    throw new ApiProblem('bad-request', 'What that request changes has no entity tag. Leave the header If-Match out.');
  const path = request.url.split('?', 1)[0] ?? '';
  const depth = pattern.split('/').length;
  const answer = await app.inject({
    method: 'GET',
    url: path.split('/').slice(0, depth).join('/'),
    headers: Object.fromEntries(
      WHO.flatMap((name) => (name in request.headers ? [[name, request.headers[name]]] : [])),
    ),
  });
  return answer.statusCode === 200 ? String(answer.headers['etag']) : null;
}

/** What says who asks, so that the look at the thing is theirs too. */
const WHO = ['host', 'authorization', 'cookie', 'quayside-page-key'];

/** RFC 9110, section 8.8.3. */
function tagsIn(header: string): readonly string[] {
  return header.match(/(?:W\/)?"[!#-~\u0080-\u00FF]*"/g) ?? [];
}

function withoutWeakness(tag: string): string {
  return tag.startsWith('W/') ? tag.slice(2) : tag;
}
