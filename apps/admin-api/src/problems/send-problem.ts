import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { ApiProblem } from './api-problem.ts';
import { problemOf } from './problem-of.ts';

/** Answers with the problem document of an error, and logs what the client is not told. */
export function sendProblem(error: unknown, request: FastifyRequest, reply: FastifyReply): FastifyReply {
  const problem = problemOf(error, request.id);
  if (problem.status === 500) request.log.error({ err: error }, 'A request failed in a way that was not foreseen.');
  return (
    reply
      .code(problem.status)
      .type('application/problem+json')
      // As text, so that no response schema of the route can touch it.
      .send(JSON.stringify(problem))
  );
}

/** Makes every error of the API, its framework's included, a problem document. */
export function answerWithProblems(app: FastifyInstance): void {
  app.setErrorHandler(sendProblem);
  app.setNotFoundHandler((request, reply) =>
    sendProblem(
      new ApiProblem('nothing-here', `There is nothing at ${request.method} ${pathOf(request.url)}.`),
      request,
      reply,
    ),
  );
}

function pathOf(url: string): string {
  return url.split('?', 1)[0]?.slice(0, 200) ?? url;
}
