import swagger from '@fastify/swagger';
import { fastify, type FastifyInstance, LogController } from 'fastify';
import {
  jsonSchemaTransform,
  serializerCompiler,
  validatorCompiler,
  type ZodTypeProvider,
} from 'fastify-type-provider-zod';
import { allowOrigins } from './access/allow-origins.ts';
import { guardRequests } from './access/guard-requests.ts';
import { limitRequests } from './access/limit-requests.ts';
import { scopeOfMethod } from './access/scope.ts';
import { noteChanges } from './audit/note-changes.ts';
import type { ApiParts } from './api-parts.ts';
import { answerOnce } from './idempotency/answer-once.ts';
import { tagAnswers } from './lists/entity-tags.ts';
import { chooseFields } from './lists/sparse-fields.ts';
import { OPENAPI } from './openapi/about.ts';
import { completeDocument } from './openapi/complete-document.ts';
import { pageRoutes } from './page/page-routes.ts';
import { referenceRoutes } from './page/reference-routes.ts';
import { answerBrokenRequest } from './problems/answer-broken-request.ts';
import { answerInTime } from './problems/answer-in-time.ts';
import { answerWithProblems, sendProblem } from './problems/send-problem.ts';
import { auditRoutes } from './routes/audit-routes.ts';
import { capacityRoutes } from './routes/capacity-routes.ts';
import { clipRoutes } from './routes/clip-routes.ts';
import { codeRoutes } from './routes/code-routes.ts';
import { configurationRoutes } from './routes/configuration-routes.ts';
import { copyRoutes } from './routes/copy-routes.ts';
import { eventRoutes } from './routes/event-routes.ts';
import { findingRoutes } from './routes/finding-routes.ts';
import { groupRoutes } from './routes/group-routes.ts';
import { healthRoutes } from './routes/health-routes.ts';
import { messageRoutes } from './routes/message-routes.ts';
import { pluginRoutes } from './routes/plugin-routes.ts';
import { metricsRoutes } from './routes/metrics-routes.ts';
import { problemRoutes } from './routes/problem-routes.ts';
import { proxyOrderRoutes } from './routes/proxy-order-routes.ts';
import { proxyRoutes } from './routes/proxy-routes.ts';
import { rebuildRoutes } from './routes/rebuild-routes.ts';
import { recordRoutes } from './routes/record-routes.ts';
import { retryRoutes } from './routes/retry-routes.ts';
import { rollActionRoutes } from './routes/roll-action-routes.ts';
import { rollRoutes } from './routes/roll-routes.ts';
import { runOrderRoutes } from './routes/run-order-routes.ts';
import { runRoutes } from './routes/run-routes.ts';
import { shootFindingRoutes } from './routes/shoot-finding-routes.ts';
import { shootRoutes } from './routes/shoot-routes.ts';
import { sessionRoutes } from './routes/session-routes.ts';
import { tokenRoutes } from './routes/token-routes.ts';
import { verifyRoutes } from './routes/verify-routes.ts';
import { volumeRoutes } from './routes/volume-routes.ts';

/**
 * The API on its parts, ready to listen; closing it ends open event streams but leaves the parts to their owner. A
 * request that gets no answer out of Redis is answered with 503 in the time that its parts give.
 */
export async function buildApi(parts: ApiParts, { logs }: { readonly logs: boolean }): Promise<FastifyInstance> {
  const app = fastify({
    logger: logs ? LOGS : false,
    logController: new LogController({ disableRequestLogging: true }),
    bodyLimit: 16 * 1024,
    requestTimeout: 10_000,
    routerOptions: { maxParamLength: 256 },
    frameworkErrors: sendProblem,
    clientErrorHandler: answerBrokenRequest,
  });
  // Plain text has a parser from the start; here it would only turn a forgotten content type into a riddle.
  app.removeContentTypeParser('text/plain');
  app.setValidatorCompiler(validatorCompiler).setSerializerCompiler(serializerCompiler);
  answerWithProblems(app);
  answerInTime(app, parts.answerWithinMs);
  await allowOrigins(app, parts.configuration.api.allowOrigins);
  guardRequests(app, parts);
  await limitRequests(app, parts.configuration.api.requestsPerMinute);
  chooseFields(app);
  tagAnswers(app);
  answerOnce(app, parts.store);
  noteChanges(app, parts);
  await app.register(swagger, { openapi: OPENAPI, transform: describeScope, transformObject: completeDocument });

  const api = app.withTypeProvider<ZodTypeProvider>();
  await api.register(healthRoutes(parts));
  await api.register(shootRoutes(parts));
  await api.register(groupRoutes(parts));
  await api.register(clipRoutes(parts));
  await api.register(shootFindingRoutes(parts));
  await api.register(proxyRoutes(parts));
  await api.register(proxyOrderRoutes(parts));
  await api.register(capacityRoutes(parts));
  await api.register(recordRoutes(parts));
  await api.register(rollRoutes(parts));
  await api.register(copyRoutes(parts));
  await api.register(rollActionRoutes(parts));
  await api.register(retryRoutes(parts));
  await api.register(volumeRoutes(parts));
  await api.register(verifyRoutes(parts));
  await api.register(findingRoutes(parts));
  await api.register(eventRoutes(parts));
  await api.register(rebuildRoutes(parts));
  await api.register(messageRoutes(parts));
  await api.register(metricsRoutes(parts));
  await api.register(pluginRoutes(parts));
  await api.register(runRoutes(parts));
  await api.register(runOrderRoutes(parts));
  await api.register(auditRoutes(parts));
  await api.register(tokenRoutes(parts));
  await api.register(configurationRoutes(parts));
  await api.register(sessionRoutes(parts));
  await api.register(problemRoutes);
  await api.register(codeRoutes);
  await app.register(referenceRoutes);
  if (parts.page !== undefined) await app.register(pageRoutes(parts.page));
  app.get('/openapi.json', { config: { isPublic: true }, schema: { hide: true } }, () => app.swagger());
  return app;
}

/** Says in the document which scope each operation takes. */
const describeScope: typeof jsonSchemaTransform = (given) => {
  const { schema, url } = jsonSchemaTransform(given);
  const { config, method } = given.route;
  if (config?.isPublic === true) return { schema, url };
  const scope = config?.scope ?? scopeOfMethod(String(method));
  return { schema: { ...schema, security: [{ token: [scope] }] }, url };
};

/** The same line as the other processes write: one JSON object with when, who, and a sentence. */
const LOGS = {
  level: 'info',
  base: { from: 'admin-api' },
  messageKey: 'sentence',
  formatters: { level: (level: string): object => ({ level }) },
  timestamp: (): string => `,"at":"${new Date().toISOString()}"`,
} as const;
