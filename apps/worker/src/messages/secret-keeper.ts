import { readFile } from 'node:fs/promises';
import { type Failure, QuaysideError } from '@quayside/shoot';
import type { SecretPlace } from '@quayside/channel-contract';

/**
 * Reads secrets for one sending, and takes them out of whatever is said about it: people, logs, events and the journal are
 * told nothing that was read here.
 */
export class SecretKeeper {
  readonly #environment: Readonly<Record<string, string | undefined>>;
  readonly #read = new Set<string>();

  constructor(environment: Readonly<Record<string, string | undefined>>) {
    this.#environment = environment;
  }

  /** The secret at a place, without the white space around it. @throws QuaysideError `SECRET_MISSING` */
  async secret({ env, file }: SecretPlace): Promise<string> {
    const text = env === undefined ? await readSecretFile(file ?? '') : (this.#environment[env] ?? '');
    const secret = text.trim();
    if (secret === '') throw missing(env === undefined ? `the file ${file}` : `the variable ${env}`);
    for (const form of formsOf(secret)) this.#read.add(form);
    return secret;
  }

  /** The same failure without any secret that was read. */
  redact(failure: Failure): Failure {
    let { sentence } = failure;
    for (const form of this.#read) sentence = sentence.replaceAll(form, '***');
    return { ...failure, sentence };
  }
}

/** As programs on the other end like to repeat it: as it is, as base64, and as in an address. */
function formsOf(secret: string): readonly string[] {
  const bare = secret.replace(/^whsec_/, '');
  return [secret, bare, Buffer.from(secret).toString('base64'), encodeURIComponent(secret)];
}

async function readSecretFile(file: string): Promise<string> {
  try {
    return await readFile(file, 'utf8');
  } catch (error) {
    const why = error instanceof Error && 'code' in error ? String(error.code) : String(error);
    throw missing(`the file ${file} (${why})`, error);
  }
}

function missing(place: string, cause?: unknown): QuaysideError {
  const sentence = `There is no secret in ${place}, so the message cannot be sent. Put it there; the file is read again at the next try, a variable at the next start.`;
  return new QuaysideError({ code: 'SECRET_MISSING', sentence, retry: 'later' }, { cause });
}
