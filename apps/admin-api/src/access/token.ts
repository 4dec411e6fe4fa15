import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import { chmod, mkdir, open, readFile, rename, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { QuaysideError } from '@quayside/shoot';

const TOKEN = /^[A-Za-z0-9_-]{43}$/;

/**
 * The API's token from `<data>/token`, made there on the first start: 32 random bytes as base64url, for its owner's eyes
 * only (mode 0600, restored when it was widened).
 * @throws QuaysideError `TOKEN_DAMAGED`, `TOKEN_UNREADABLE`
 */
export async function ensureToken(dataFolder: string): Promise<string> {
  const file = join(dataFolder, 'token');
  const known = await readToken(file);
  if (known !== null) return known;
  await mkdir(dataFolder, { recursive: true });
  const token = randomBytes(32).toString('base64url');
  const staged = `${file}.${process.pid}.new`;
  const handle = await open(staged, 'w', 0o600);
  try {
    await handle.writeFile(`${token}\n`);
    await handle.sync();
  } finally {
    await handle.close();
  }
  await rename(staged, file);
  return token;
}

async function readToken(file: string): Promise<string | null> {
  try {
    const text = (await readFile(file, 'utf8')).trim();
    if (!TOKEN.test(text)) {
      throw new QuaysideError({
        code: 'TOKEN_DAMAGED',
        sentence: `The API token in ${file} is not one that Quayside made. Remove that file and start again; a new one is made.`,
        retry: 'never',
      });
    }
    if (((await stat(file)).mode & 0o077) !== 0) await chmod(file, 0o600);
    return text;
  } catch (error) {
    if (error instanceof QuaysideError) throw error;
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return null;
    const why = error instanceof Error ? error.message : String(error);
    throw new QuaysideError(
      {
        code: 'TOKEN_UNREADABLE',
        sentence: `The API token in ${file} cannot be read (${why}). Make the data folder belong to the user that runs the service.`,
        retry: 'never',
      },
      { cause: error },
    );
  }
}

/** Whether two secrets are the same, in a time that tells nothing about either. */
export function isSameSecret(one: string, other: string): boolean {
  return timingSafeEqual(digest(one), digest(other));
}

function digest(text: string): Buffer {
  return createHash('sha256').update(text).digest();
}
