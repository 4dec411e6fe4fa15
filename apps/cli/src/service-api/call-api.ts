import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { Problem } from '@quayside/admin-api';
import type { Configuration } from '@quayside/configuration';
import { QuaysideError } from '@quayside/shoot';
import type { z } from 'zod';
import { operatorName } from './operator-name.ts';

type Request = Omit<RequestInit, 'headers'> & { readonly headers?: Record<string, string> };

const ANSWER_WITHIN_MS = 10_000;

/** The running service, as a command speaks with it. Every failure is one sentence for the operator. */
export interface ServiceApi {
  readonly url: string;
  get<Answer>(path: string, answer: z.ZodType<Answer>): Promise<Answer>;
  post<Answer>(path: string, body: object, answer: z.ZodType<Answer>): Promise<Answer>;
  /** An answer as it comes, for streams; not yet checked for its status. */
  open(
    path: string,
    options: { readonly headers: Record<string, string>; readonly signal: AbortSignal },
  ): Promise<Response>;
}

/**
 * Finds the service of a configuration: where it listens and its token are in the data folder.
 * @throws QuaysideError `NOT_RUNNING`, `TOKEN_UNREADABLE`; the calls also throw what the service answers.
 */
export async function reachService({ data, api }: Pick<Configuration, 'data' | 'api'>): Promise<ServiceApi> {
  const url = (await readIfThere(join(data, 'api-address'))) ?? `http://127.0.0.1:${api.port}`;
  const token = await readIfThere(join(data, 'token'));
  if (token === null) throw notRunning(url);
  const authorization = `Bearer ${token}`;

  const call = async (path: string, init: Request): Promise<Response> => {
    try {
      return await fetch(url + path, { ...init, headers: { ...init.headers, authorization } });
    } catch (error) {
      if (error instanceof DOMException && error.name === 'AbortError') throw error;
      throw notRunning(url, error);
    }
  };
  const ask = async <Answer>(path: string, init: Request, answer: z.ZodType<Answer>): Promise<Answer> => {
    const response = await call(path, { ...init, signal: AbortSignal.timeout(ANSWER_WITHIN_MS) });
    return answer.parse(await bodyOf(response, url));
  };
  return {
    url,
    get: async (path, answer) => ask(path, {}, answer),
    post: async (path, body, answer) =>
      ask(
        path,
        {
          method: 'POST',
          headers: { 'content-type': 'application/json', 'quayside-operator': operatorName() },
          body: JSON.stringify(body),
        },
        answer,
      ),
    open: async (path, options) => call(path, options),
  };
}

/** The JSON of an answer, or the problem in it as an error. */
export async function bodyOf(response: Response, url: string): Promise<unknown> {
  const body: unknown = await response.json().catch(() => null);
  if (response.ok) return body;
  const problem = Problem.safeParse(body);
  // Health tells its state with 503 as well, and that is an answer.
  if (response.status === 503 && !problem.success && body !== null) return body;
  const sentence = problem.success
    ? problem.data.detail
    : `What answers at ${url} is not Quayside (status ${response.status}). See api.port in the configuration.`;
  const kind = problem.success ? problem.data.type.replace('/problems/', '') : 'not-quayside';
  throw new QuaysideError({
    code: kind.toUpperCase().replaceAll(/[^A-Z0-9]/g, '_'),
    sentence,
    retry: response.status >= 500 ? 'later' : 'never',
  });
}

function notRunning(url: string, cause?: unknown): QuaysideError {
  return new QuaysideError(
    {
      code: 'NOT_RUNNING',
      sentence: `Quayside is not running: nothing answers at ${url}. Start it with "quayside start". Until then, take every drive as not copied.`,
      retry: 'later',
    },
    { cause },
  );
}

async function readIfThere(file: string): Promise<string | null> {
  try {
    return (await readFile(file, 'utf8')).trim();
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return null;
    const why = error instanceof Error ? error.message : String(error);
    throw new QuaysideError(
      {
        code: 'TOKEN_UNREADABLE',
        sentence: `${file} cannot be read (${why}). Run the command as the user that runs the service.`,
        retry: 'never',
      },
      { cause: error },
    );
  }
}
