import swaggerUi from '@fastify/swagger-ui';
import type { FastifyPluginAsync } from 'fastify';
import { PAGE_HEADERS } from './page-headers.ts';

/** The OpenAPI document as a page, from files of this machine alone. It tells no state, and so needs no token. */
export const referenceRoutes: FastifyPluginAsync = async (app) => {
  app.addHook('onRoute', (route) => {
    route.config = { ...route.config, isPublic: true };
  });
  app.addHook('onSend', async (_request, reply) => void reply.headers(REFERENCE_HEADERS));
  await app.register(swaggerUi, {
    routePrefix: '/reference',
    theme: { title: 'Quayside: the API' },
    uiConfig: { layout: 'BaseLayout', docExpansion: 'list', deepLinking: true, tryItOutEnabled: false },
  });
};

/** As the page's, but for styles: the reference writes them into its markup, and makes markup out of text. */
const REFERENCE_HEADERS = {
  ...PAGE_HEADERS,
  'content-security-policy': [
    "default-src 'none'",
    "script-src 'self'",
    "style-src 'self' 'unsafe-inline'",
    "img-src 'self' data:",
    "connect-src 'self'",
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'none'",
  ].join('; '),
};
