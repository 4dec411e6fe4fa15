import { Agent, request as httpRequest } from 'node:http';
import { Ajv2020 } from 'ajv/dist/2020.js';
import ajvFormats from 'ajv-formats';
import { z } from 'zod';

const Schema = z.looseObject({});
const Content = z.looseObject({ schema: Schema.optional(), example: z.unknown().optional() });
const Parameter = z.looseObject({
  in: z.enum(['path', 'query', 'header']),
  name: z.string(),
  required: z.boolean().default(false),
  schema: Schema,
  example: z.union([z.string(), z.number()]).optional(),
});
const OperationObject = z.looseObject({
  operationId: z.string(),
  summary: z.string(),
  tags: z.array(z.string()).min(1),
  security: z.array(z.record(z.string(), z.array(z.string()))),
  parameters: z.array(Parameter).default([]),
  requestBody: z.looseObject({ required: z.boolean(), content: z.record(z.string(), Content) }).optional(),
  responses: z.record(z.string(), z.looseObject({ content: z.record(z.string(), Content).optional() })),
});
const Document = z.looseObject({ paths: z.record(z.string(), z.record(z.string(), OperationObject)) });

export type Parameter = z.output<typeof Parameter>;
export type JsonSchema = z.output<typeof Schema>;

/** One operation as the served document describes it. */
export interface Operation extends z.output<typeof OperationObject> {
  readonly method: string;
  readonly path: string;
  /** The scope that it takes; `public` when it takes no token. */
  readonly scope: string;
  readonly body: { readonly isRequired: boolean; readonly schema: JsonSchema; readonly example: unknown } | null;
}

export async function readDocument(url: string): Promise<z.output<typeof Document>> {
  return Document.parse(await (await fetch(`${url}/openapi.json`)).json());
}

export function operationsOf({ paths }: z.output<typeof Document>): readonly Operation[] {
  return Object.entries(paths).flatMap(([path, operations]) =>
    Object.entries(operations).map(([method, operation]) => {
      const isRequired = operation.requestBody?.required === true;
      const body = operation.requestBody?.content['application/json'];
      return {
        ...operation,
        method: method.toUpperCase(),
        path,
        scope: operation.security[0]?.['token']?.[0] ?? 'public',
        body: body?.schema === undefined ? null : { isRequired, schema: body.schema, example: body.example },
      };
    }),
  );
}

/** A request to the letter: nothing of it is tidied on its way, as `fetch` would. */
export interface RawRequest {
  readonly method: string;
  readonly path: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly body?: string | Buffer;
}

export interface RawAnswer {
  readonly status: number;
  readonly headers: Readonly<Record<string, string>>;
  readonly text: string;
}

const agent = new Agent({ keepAlive: true, maxSockets: 16 });

/** Sends a request; of an event stream only the beginning is taken. */
export async function send(url: string, { method, path, headers, body }: RawRequest): Promise<RawAnswer> {
  const { hostname, port } = new URL(url);
  const length = body === undefined ? {} : { 'content-length': String(Buffer.byteLength(body)) };
  return new Promise((resolve, reject) => {
    const sent = httpRequest(
      { agent, hostname, port, method, path, headers: { ...length, ...headers } },
      (response) => {
        const taken: Buffer[] = [];
        const isStream = response.headers['content-type']?.startsWith('text/event-stream') === true;
        const settle = (): void =>
          resolve({
            status: response.statusCode ?? 0,
            headers: Object.fromEntries(Object.entries(response.headers).map(([name, value]) => [name, String(value)])),
            text: Buffer.concat(taken).toString('utf8'),
          });
        response.on('data', (chunk: Buffer) => {
          taken.push(chunk);
          if (!isStream) return;
          settle();
          response.destroy();
        });
        response.once('end', settle).once('error', reject);
      },
    );
    sent.once('error', reject).end(body);
  });
}

/**
 * What in an answer is not as the document says, or null. Checked by Ajv, an independent validator of JSON Schema 2020-12,
 * the dialect of OpenAPI 3.1.
 */
export type AnswerCheck = (operation: Pick<Operation, 'path' | 'method'>, answer: RawAnswer) => string | null;

export function answerCheck(document: z.output<typeof Document>): AnswerCheck {
  const ajv = new Ajv2020({ strict: false, allErrors: true });
  ajvFormats.default(ajv);
  ajv.addSchema(document, 'document.json');
  return ({ path, method }, { status, headers, text }) => {
    const responses = document.paths[path]?.[method.toLowerCase()]?.responses ?? {};
    const key = [String(status), `${Math.floor(status / 100)}XX`].find((one) => one in responses);
    if (key === undefined) return `status ${status} is not in the document`;
    const type = headers['content-type']?.split(';')[0] ?? '';
    const content = responses[key]?.content;
    if (content === undefined) return text === '' ? null : `an answer of status ${status} has no content`;
    if (!(type in content)) return `type "${type}" of status ${status} is not in the document`;
    if (!type.endsWith('json')) return null;
    const pointer = ['paths', path, method.toLowerCase(), 'responses', key, 'content', type, 'schema'];
    const validate = ajv.getSchema(`document.json#/${pointer.map(escaped).join('/')}`);
    if (validate === undefined) return `status ${status} has no schema`;
    return validate(JSON.parse(text)) === true ? null : ajv.errorsText(validate.errors);
  };
}

/** RFC 6901, section 3 and 6: a JSON Pointer in a URI fragment. */
function escaped(part: string): string {
  return encodeURIComponent(part.replaceAll('~', '~0').replaceAll('/', '~1'));
}

/** The request that the examples of an operation make. */
export function exampleRequest(operation: Operation, headers: Readonly<Record<string, string>>): RawRequest {
  const given = operation.parameters.flatMap(({ in: place, name, example }) =>
    example === undefined ? [] : [{ place, name, text: String(example) }],
  );
  const inPath = new Map(given.filter(({ place }) => place === 'path').map(({ name, text }) => [name, text]));
  const query = new URLSearchParams();
  for (const { place, name, text } of given) if (place === 'query') query.set(name, text);
  const path = operation.path.replaceAll(/\{(\w+)\}/g, (_, name: string) => encodeURIComponent(inPath.get(name) ?? ''));
  const request = { method: operation.method, path: query.size === 0 ? path : `${path}?${query.toString()}` };
  return operation.body?.example === undefined
    ? { ...request, headers }
    : {
        ...request,
        headers: { ...headers, 'content-type': 'application/json' },
        body: JSON.stringify(operation.body.example),
      };
}
