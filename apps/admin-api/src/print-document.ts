import { parseConfiguration } from '@quayside/configuration';
import type { ApiParts } from './api-parts.ts';
import { buildApi } from './build-api.ts';

const CONFIGURATION = `
recorders: { wheel: { role: camera, match: [{ label: WHEEL }] } }
destinations: [{ name: primary, path: /primary }, { name: backup, path: /backup }]
`;

/** Prints the OpenAPI document. No request is ever made, so neither Redis nor a token stands behind the routes. */
const parts: Partial<ApiParts> = {
  configuration: parseConfiguration(CONFIGURATION, { file: 'none', env: { HOME: '/' }, platform: 'linux' }),
  cautions: [],
};
const app = await buildApi(parts as ApiParts, { logs: false });
await app.ready();
process.stdout.write(JSON.stringify(app.swagger()));
await app.close();
