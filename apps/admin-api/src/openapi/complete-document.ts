import type { FastifyDynamicSwaggerOptions } from '@fastify/swagger';
import { addressOfChanged } from '../lists/entity-tags.ts';
import { EXAMPLES, type RequestExample } from './examples.ts';

type Complete = NonNullable<FastifyDynamicSwaggerOptions['transformObject']>;
type Finished = ReturnType<Complete>;

interface Parameter {
  readonly in: string;
  readonly name: string;
  readonly required: boolean;
  readonly description?: string;
  readonly schema: object;
  readonly example?: unknown;
}

interface Content {
  readonly schema?: object;
  readonly example?: unknown;
}

interface Answer {
  readonly description: string;
  readonly content?: Readonly<Record<string, Content>>;
}

interface Body {
  readonly required?: boolean;
  readonly content: Readonly<Record<string, Content>>;
}

interface Operation {
  readonly operationId?: string;
  readonly parameters?: readonly Parameter[];
  readonly requestBody?: Body;
  readonly responses: Readonly<Record<string, Answer>>;
}

interface Place {
  readonly method: string;
  /** Whether what it changes can be looked up, and so has an entity tag. */
  readonly isTagged: boolean;
}

interface Document {
  readonly paths: Readonly<Record<string, Readonly<Record<string, Operation>>>>;
  readonly components: { readonly schemas?: object };
}

/** Puts into the document what no single route says: the headers that all take, a request of each as an example, and one schema of problems. */
export const completeDocument: Complete = (given) => {
  if (!('openapiObject' in given)) return given.swaggerObject;
  const document = given.openapiObject as unknown as Document;
  let problem: object | undefined;
  const paths = mapValues(document.paths, (operations, path) =>
    mapValues(operations, (operation, method) => {
      problem ??= problemSchemaOf(operation);
      const isTagged = method !== 'get' && 'get' in (document.paths[addressOfChanged(path)] ?? {});
      return completeOperation(operation, { method, isTagged });
    }),
  );
  const components = { ...document.components, schemas: { ...document.components.schemas, Problem: problem } };
  return { ...document, paths, components } as unknown as Finished;
};

function completeOperation(operation: Operation, place: Place): Operation {
  const example = EXAMPLES[operation.operationId ?? ''] ?? {};
  const parameters = [...(operation.parameters ?? []), ...headersOf(operation, place)].map((parameter) => {
    const value = example.parameters?.[parameter.name];
    return value === undefined ? parameter : { ...parameter, example: value };
  });
  return {
    ...operation,
    ...(parameters.length > 0 && { parameters }),
    ...(operation.requestBody !== undefined && { requestBody: completeBody(operation.requestBody, example) }),
    responses: { ...mapValues(operation.responses, completeAnswer), ...(isLookedUp(operation, place) && NOT_CHANGED) },
  };
}

function completeBody({ content }: Body, { body }: RequestExample): Body {
  const isOptional = Object.values(content).some(({ schema }) => JSON.stringify(schema).includes('{"type":"null"}'));
  return {
    required: !isOptional,
    content: body === undefined ? content : mapValues(content, (one) => ({ ...one, example: body })),
  };
}

function headersOf(operation: Operation, place: Place): readonly Parameter[] {
  if (operation.operationId === 'streamEvents') return [LAST_EVENT];
  if (place.method === 'get') return isLookedUp(operation, place) ? [IF_NONE_MATCH] : [];
  return [
    OPERATOR,
    ...(SHOWN_ONCE.includes(operation.operationId ?? '') ? [] : [KEY]),
    ...(place.isTagged ? [IF_MATCH] : []),
  ];
}

/** Files and streams have no entity tag. */
function isLookedUp({ responses }: Operation, { method }: Place): boolean {
  return method === 'get' && TAGGED.includes(Object.keys(responses['200']?.content ?? {}).join(','));
}

function header(name: string, schema: object, description: string): Parameter {
  return { in: 'header', name, required: false, description, schema };
}

/** Their answers are kept nowhere, so that they take no key. */
const SHOWN_ONCE = ['signIn', 'makeToken'];
const TAGGED = ['application/json', 'text/plain'];
const NOT_CHANGED = {
  304: { description: 'It is as it was under the entity tag that was sent; the answer is empty.' },
};
const IF_NONE_MATCH = header(
  'If-None-Match',
  { type: 'string' },
  'The ETag of an answer that you have; when it still holds, the answer is 304 and empty.',
);
const IF_MATCH = header(
  'If-Match',
  { type: 'string' },
  'The ETag under which you saw what is to be changed; when it is another by now, nothing is done and the answer is 412.',
);
const LAST_EVENT = header(
  'Last-Event-ID',
  { type: 'string', pattern: String.raw`^(?:0|\d{1,20}-\d{1,20})$` },
  'The id of the last event that was received; the stream goes on after it.',
);
const OPERATOR = header(
  'Quayside-Operator',
  { type: 'string', maxLength: 200 },
  'Who asks, for the record of changes.',
);
const KEY = header(
  'Idempotency-Key',
  { type: 'string', pattern: '^[!-~]{1,255}$' },
  'The same request under the same key is carried out once, and answered the same for a day.',
);

function completeAnswer({ description, ...answer }: Answer, status: string): Answer {
  const content = answer.content?.[PROBLEM_TYPE];
  return {
    ...answer,
    description: description === 'Default Response' ? (DESCRIPTIONS[status] ?? 'The answer.') : description,
    ...(content !== undefined && { content: { [PROBLEM_TYPE]: { ...content, schema: PROBLEM_REFERENCE } } }),
  };
}

function problemSchemaOf({ responses }: Operation): object | undefined {
  return responses['4XX']?.content?.[PROBLEM_TYPE]?.schema;
}

const PROBLEM_TYPE = 'application/problem+json';
const PROBLEM_REFERENCE = { $ref: '#/components/schemas/Problem' };
const DESCRIPTIONS: Readonly<Record<string, string>> = {
  201: 'It was made.',
  202: 'It was taken on; what comes of it shows in the state, and in the events.',
  503: 'It cannot be told now.',
};

function mapValues<Value, Mapped>(
  values: Readonly<Record<string, Value>>,
  map: (value: Value, key: string) => Mapped,
): Record<string, Mapped> {
  return Object.fromEntries(Object.entries(values).map(([key, value]) => [key, map(value, key)]));
}
