import type { FastifyDynamicSwaggerOptions } from '@fastify/swagger';
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

interface Document {
  readonly paths: Readonly<Record<string, Readonly<Record<string, Operation>>>>;
  readonly components: { readonly schemas?: object };
}

/** Puts into the document what no single route says: the headers that all take, a request of each as an example, and one schema of problems. */
export const completeDocument: Complete = (given) => {
  if (!('openapiObject' in given)) return given.swaggerObject;
  const document = given.openapiObject as unknown as Document;
  let problem: object | undefined;
  const paths = mapValues(document.paths, (operations) =>
    mapValues(operations, (operation, method) => {
      problem ??= problemSchemaOf(operation);
      return completeOperation(operation, method);
    }),
  );
  const components = { ...document.components, schemas: { ...document.components.schemas, Problem: problem } };
  return { ...document, paths, components } as unknown as Finished;
};

function completeOperation(operation: Operation, method: string): Operation {
  const example = EXAMPLES[operation.operationId ?? ''] ?? {};
  const parameters = [...(operation.parameters ?? []), ...headersOf(operation, method)].map((parameter) => {
    const value = example.parameters?.[parameter.name];
    return value === undefined ? parameter : { ...parameter, example: value };
  });
  return {
    ...operation,
    ...(parameters.length > 0 && { parameters }),
    ...(operation.requestBody !== undefined && { requestBody: completeBody(operation.requestBody, example) }),
    responses: mapValues(operation.responses, completeAnswer),
  };
}

function completeBody({ content }: Body, { body }: RequestExample): Body {
  const isOptional = Object.values(content).some(({ schema }) => JSON.stringify(schema).includes('{"type":"null"}'));
  return {
    required: !isOptional,
    content: body === undefined ? content : mapValues(content, (one) => ({ ...one, example: body })),
  };
}

function headersOf({ operationId }: Operation, method: string): readonly Parameter[] {
  if (operationId === 'streamEvents') return [LAST_EVENT];
  return method === 'get' ? [] : [OPERATOR, ...(operationId === 'signIn' ? [] : [KEY])];
}

function header(name: string, schema: object, description: string): Parameter {
  return { in: 'header', name, required: false, description, schema };
}

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
