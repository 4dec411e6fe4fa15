import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Scope } from './access/scope.ts';
import { makeToken } from './access/token-file.ts';
import { NOW, startTestApi, type TestApi, TOKEN } from './api.test-support.ts';
import { fillWorld } from './api-world.test-support.ts';
import { hostileRequests, invalidRequests, validRequests } from './fuzz-requests.test-support.ts';
import {
  type AnswerCheck,
  answerCheck,
  type Operation,
  operationsOf,
  type RawAnswer,
  type RawRequest,
  readDocument,
  send,
} from './openapi-document.test-support.ts';

/** The same requests each time; another number gives others. */
const SEED = 20_260_301;
const AT_ONCE = 8;

let api: TestApi;
let operations: readonly Operation[];
let check: AnswerCheck;
let sentCount = 0;
beforeAll(async () => {
  api = await startTestApi();
  await fillWorld(api);
  const document = await readDocument(api.url);
  operations = operationsOf(document);
  check = answerCheck(document);
});
afterAll(async () => api[Symbol.asyncDispose]());

interface Asked {
  readonly operation: Operation;
  readonly request: RawRequest;
  readonly answer: RawAnswer;
}

/** Sends requests of every operation, and gives what each was answered. */
async function ask(
  count: number,
  requests: (operation: Operation) => fc.Arbitrary<RawRequest> | null,
  tokens: readonly (string | null)[] = [TOKEN],
): Promise<readonly Asked[]> {
  const asked: Asked[] = [];
  for (const [place, operation] of operations.entries()) {
    const arbitrary = requests(operation);
    if (arbitrary === null) continue;
    const sample = fc.sample(arbitrary, { seed: SEED + place, numRuns: count });
    for (let start = 0; start < sample.length; start += AT_ONCE) {
      const some = sample.slice(start, start + AT_ONCE).map(async (request, index) => {
        const token = tokens[(start + index) % tokens.length] ?? null;
        const authorization = token === null ? {} : { authorization: `Bearer ${token}` };
        const whole = { ...request, headers: { ...request.headers, ...authorization } };
        return { operation, request: whole, answer: await send(api.url, whole) };
      });
      asked.push(...(await Promise.all(some)));
    }
  }
  sentCount += asked.length;
  return asked;
}

/** What is wrong with an answer, whatever was asked. */
function faultOf({ operation, request, answer }: Asked): string | null {
  if (answer.status >= 500) return 'fails';
  const leak = leakIn(
    `${JSON.stringify(answer.headers)}\n${answer.text}`,
    operation.operationId === 'getConfiguration',
  );
  if (leak !== null) return `lets out ${leak}`;
  // What the document says of an operation says nothing of other methods at its address.
  if (request.method !== operation.method) return null;
  // Who asks for a few fields gets less than the schema requires.
  return request.path.includes('fields=') && answer.status === 200 ? null : check(operation, answer);
}

/** Secrets, the inside of the program, and where on the disk it keeps its things. */
function leakIn(text: string, isAboutPaths: boolean): string | null {
  const secrets = [TOKEN, 'T0PSECRET', ...(isAboutPaths ? [] : [api.folder]), JSON.stringify(api.redis.address)];
  const found = secrets.find((secret) => text.includes(secret));
  if (found !== undefined) return found;
  return /\n\s+at |node_modules|\.[jt]s:\d|file:\/\/|ECONN|ENOENT|ReplyError|ZodError/.exec(text)?.[0] ?? null;
}

/** The faults, each with the request that shows it. */
function tell(asked: readonly Asked[], fault: (one: Asked) => string | null): readonly string[] {
  return asked.flatMap((one) => {
    const found = fault(one);
    if (found === null) return [];
    const { method, path, body = '' } = one.request;
    const { status, text } = one.answer;
    return [`${method} ${path} ${String(body).slice(0, 200)} ${found}: ${status} ${text.slice(0, 300)}`];
  });
}

// Thousands of requests take a while on a machine that is busy with other suites.
describe(`every operation, asked with what is made from its schema (seed ${SEED})`, { timeout: 600_000 }, () => {
  it('answers valid requests as the document says, each operation with success at least once', async () => {
    const asked = await ask(35, validRequests);
    expect(tell(asked, faultOf)).toEqual([]);
    const answered = new Set(asked.flatMap(({ operation, answer }) => (answer.status < 300 ? [operation] : [])));
    expect(operations.filter((one) => !answered.has(one)).map(({ operationId }) => operationId)).toEqual([]);
  });

  it('refuses invalid requests, with a problem document', async () => {
    const asked = await ask(30, invalidRequests);
    expect(tell(asked, (one) => faultOf(one) ?? (one.answer.status < 400 ? 'is accepted' : null))).toEqual([]);
  });

  it('lets nobody in without a token that allows it', async () => {
    const scopes: readonly Scope[] = ['read', 'operate'];
    const weak: string[] = [];
    for (const scope of scopes)
      weak.push((await makeToken(api.folder, { name: scope, scope, expiresAt: null }, NOW)).token);
    const tooWeak = (operation: Operation): readonly (string | null)[] => [
      null,
      `${TOKEN}x`,
      ...weak.slice(0, ['read', 'operate', 'admin'].indexOf(operation.scope)),
    ];
    for (const one of operations.filter(({ scope }) => scope !== 'public')) {
      const asked = await ask(16, (operation) => (operation === one ? validRequests(one) : null), tooWeak(one));
      const isIn = ({ answer: { status } }: Asked): string | null => ([401, 403].includes(status) ? null : 'is let in');
      expect(tell(asked, (answered) => isIn(answered) ?? faultOf(answered))).toEqual([]);
    }
  });

  it('answers hostile requests without failing, and lets nothing out', async () => {
    const asked = await ask(45, hostileRequests);
    expect(tell(asked, faultOf)).toEqual([]);
    expect(Reflect.get({}, 'isAdmin')).toBeUndefined();
    expect(await (await api.get('/v1/health')).json()).toMatchObject({ ok: true });
  });

  it('was asked at least 5,000 times', () => {
    expect(sentCount).toBeGreaterThanOrEqual(5000);
  });
});
