import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { type ApiClient, createClient, notRunning } from '@quayside/api-client';
import type { Configuration } from '@quayside/configuration';
import { QuaysideError } from '@quayside/shoot';
import { findConfiguration } from '../config.ts';
import { operatorName } from './operator-name.ts';

/** The service of the configuration that a command was told of, or that lies in its usual places. */
export async function reachServiceOf({ config }: { readonly config?: string }): Promise<ApiClient> {
  return reachService((await findConfiguration(config)).configuration);
}

/**
 * Finds the service of a configuration: where it listens and its token are in the data folder.
 * @throws QuaysideError `NOT_RUNNING`, `TOKEN_UNREADABLE`; the calls also throw what the service answers.
 */
export async function reachService({ data, api }: Pick<Configuration, 'data' | 'api'>): Promise<ApiClient> {
  const address = (await readIfThere(join(data, 'api-address'))) ?? `http://127.0.0.1:${api.port}`;
  const token = await readIfThere(join(data, 'token'));
  if (token === null) throw notRunning(address);
  return createClient({ address, token, operator: operatorName });
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
