import { createConfig, lintFromString } from '@redocly/openapi-core';
import { Validator } from '@seriousme/openapi-schema-validator';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startTestApi, type TestApi, TOKEN } from './api.test-support.ts';
import { fillWorld } from './api-world.test-support.ts';
import { answerCheck, exampleRequest, operationsOf, readDocument, send } from './openapi-document.test-support.ts';

let api: TestApi;
beforeAll(async () => {
  api = await startTestApi();
  await fillWorld(api);
});
afterAll(async () => api[Symbol.asyncDispose]());

describe('the OpenAPI document', () => {
  // Checked by @seriousme/openapi-schema-validator, which holds the OpenAPI Initiative's published schema of 3.1.
  it('is valid OpenAPI 3.1, and describes every route', async () => {
    const document = await readDocument(api.url);
    const validator = new Validator();
    expect(await validator.validate(document)).toEqual({ valid: true });
    expect(validator.version).toBe('3.1');
    expect(Object.keys(document.paths).toSorted()).toEqual([
      '/metrics',
      '/problems/{code}',
      '/v1/audit',
      '/v1/capacity',
      '/v1/channels',
      '/v1/channels/{name}/test',
      '/v1/codes',
      '/v1/codes/{code}',
      '/v1/configuration',
      '/v1/deliveries',
      '/v1/destinations/{id}/verify',
      '/v1/events',
      '/v1/events/list',
      '/v1/findings',
      '/v1/health',
      '/v1/health/live',
      '/v1/health/ready',
      '/v1/plugins',
      '/v1/rebuild',
      '/v1/rolls',
      '/v1/rolls/{id}',
      '/v1/rolls/{id}/copies',
      '/v1/rolls/{id}/judge',
      '/v1/rolls/{id}/move',
      '/v1/rolls/{id}/retry',
      '/v1/runs',
      '/v1/runs/{id}',
      '/v1/runs/{id}/cancel',
      '/v1/runs/{id}/retry',
      '/v1/runs/{id}/skip',
      '/v1/session',
      '/v1/shoots',
      '/v1/shoots/{id}',
      '/v1/shoots/{id}/clips',
      '/v1/shoots/{id}/close',
      '/v1/shoots/{id}/findings',
      '/v1/shoots/{id}/findings/{finding}',
      '/v1/shoots/{id}/findings/{finding}/acknowledge',
      '/v1/shoots/{id}/groups',
      '/v1/shoots/{id}/proxies',
      '/v1/shoots/{id}/proxies/approve',
      '/v1/shoots/{id}/proxies/cancel',
      '/v1/shoots/{id}/proxies/hold',
      '/v1/shoots/{id}/proxies/plan',
      '/v1/shoots/{id}/proxies/render',
      '/v1/shoots/{id}/records',
      '/v1/shoots/{id}/records/{folder}/{name}',
      '/v1/shoots/{id}/records/{name}',
      '/v1/shoots/{id}/rename',
      '/v1/shoots/{id}/retry',
      '/v1/shoots/{id}/verify',
      '/v1/steps',
      '/v1/tokens',
      '/v1/tokens/{id}',
      '/v1/volumes',
      '/v1/volumes/{key}',
      '/v1/volumes/{key}/assign',
    ]);
  });

  // By the rules that @redocly/openapi-core recommends, warnings counted as errors.
  it('passes a linter', async () => {
    const config = await createConfig({ extends: ['recommended-strict'] });
    const source = JSON.stringify(await readDocument(api.url));
    const found = await lintFromString({ source, config, absoluteRef: 'openapi.json' });
    expect(found.map(({ ruleId, message, location }) => [ruleId, message, location[0]?.pointer])).toEqual([]);
  });

  it('gives each operation a name of its own, a tag that it explains, a scope, problems and an example', async () => {
    const document = await readDocument(api.url);
    const operations = operationsOf(document);
    expect(new Set(operations.map(({ operationId }) => operationId)).size).toBe(operations.length);
    const tags = JSON.stringify(document['tags']);
    const lacking = operations.filter(
      ({ tags: [tag = ''], scope, responses, parameters, body }) =>
        !tags.includes(`"name":"${tag}"`) ||
        !['public', 'read', 'operate', 'admin'].includes(scope) ||
        responses['4XX']?.content?.['application/problem+json'] === undefined ||
        parameters.some(({ required, example }) => required && example === undefined) ||
        (body?.isRequired === true && body.example === undefined),
    );
    expect(lacking.map(({ operationId }) => operationId)).toEqual([]);
  });
});

describe('the examples of the OpenAPI document', () => {
  it('are run, each is answered with success, and as the document says', { timeout: 300_000 }, async () => {
    const document = await readDocument(api.url);
    const check = answerCheck(document);
    const wrong: string[] = [];
    for (const operation of operationsOf(document)) {
      const authorization = `Bearer ${TOKEN}`;
      const answer = await send(api.url, exampleRequest(operation, { authorization }));
      const fault = answer.status < 300 ? check(operation, answer) : answer.text;
      if (fault !== null) wrong.push(`${operation.operationId}: ${answer.status} ${fault}`);
    }
    expect(wrong).toEqual([]);
  });
});
