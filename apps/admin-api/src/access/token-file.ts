import { createHash, randomBytes } from 'node:crypto';
import { mkdir, open, readFile, rename } from 'node:fs/promises';
import { join } from 'node:path';
import { Instant, QuaysideError } from '@quayside/shoot';
import { z } from 'zod';
import { oneAtATime } from '../routes/one-at-a-time.ts';
import { Scope } from './scope.ts';

/** A token that was made for somebody. The token itself is nowhere: only its digest is kept. */
export const TokenRecord = z.object({
  id: z.string().regex(/^[a-z0-9]{8}$/),
  name: z.string(),
  scope: Scope,
  /** SHA-256 of the token, in hex. A slow digest would add nothing: a token holds 256 random bits. */
  hash: z.string().regex(/^[0-9a-f]{64}$/),
  madeAt: Instant,
  expiresAt: Instant.nullable(),
  revokedAt: Instant.nullable(),
});
export type TokenRecord = z.output<typeof TokenRecord>;

/** Each change reads the whole file and writes it again. */
const inTurn = oneAtATime();

const TokenFile = z.object({ tokens: z.array(TokenRecord) });

/** Where the records lie in the data folder. */
export function tokenFile(dataFolder: string): string {
  return join(dataFolder, 'tokens.json');
}

/** All tokens that were made, the oldest first. @throws QuaysideError `TOKENS_DAMAGED` */
export async function listTokens(dataFolder: string): Promise<readonly TokenRecord[]> {
  const file = tokenFile(dataFolder);
  try {
    return TokenFile.parse(JSON.parse(await readFile(file, 'utf8'))).tokens;
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return [];
    const sentence = `The tokens in ${file} cannot be read. Put the file right, or remove it: then all but the token of the service itself are void.`;
    throw new QuaysideError({ code: 'TOKENS_DAMAGED', sentence, retry: 'never' }, { cause: error });
  }
}

/** Makes a token of 256 random bits and keeps its digest. The token that is given back is shown nowhere again. */
export async function makeToken(
  dataFolder: string,
  wish: Pick<TokenRecord, 'name' | 'scope' | 'expiresAt'>,
  now: Instant,
): Promise<{ readonly token: string; readonly record: TokenRecord }> {
  return inTurn(async () => {
    const id = randomBytes(16).toString('base64url').toLowerCase().replaceAll(/[-_]/g, 'x').slice(0, 8);
    const token = `${id}.${randomBytes(32).toString('base64url')}`;
    const record: TokenRecord = { id, ...wish, hash: hashOf(token), madeAt: now, revokedAt: null };
    await writeTokens(dataFolder, [...(await listTokens(dataFolder)), record]);
    return { token, record };
  });
}

/** Makes a token void from now on. Null when there is none of that id. */
export async function revokeToken(dataFolder: string, id: string, now: Instant): Promise<TokenRecord | null> {
  return inTurn(async () => {
    const tokens = await listTokens(dataFolder);
    const known = tokens.find((record) => record.id === id);
    if (known === undefined) return null;
    const revoked = { ...known, revokedAt: known.revokedAt ?? now };
    await writeTokens(
      dataFolder,
      tokens.map((record) => (record === known ? revoked : record)),
    );
    return revoked;
  });
}

/** The digest under which a token is kept. */
export function hashOf(token: string): string {
  return createHash('sha256').update(token).digest('hex');
}

async function writeTokens(dataFolder: string, tokens: readonly TokenRecord[]): Promise<void> {
  await mkdir(dataFolder, { recursive: true });
  const staged = `${tokenFile(dataFolder)}.${process.pid}.new`;
  const handle = await open(staged, 'w', 0o600);
  try {
    await handle.writeFile(`${JSON.stringify({ tokens }, null, 2)}\n`);
    await handle.sync();
  } finally {
    await handle.close();
  }
  await rename(staged, tokenFile(dataFolder));
}
