import { stat } from 'node:fs/promises';
import type { Instant } from '@quayside/shoot';
import type { Scope } from './scope.ts';
import { isSameSecret } from './token.ts';
import { hashOf, listTokens, tokenFile, type TokenRecord } from './token-file.ts';

/** What whoever asks may do. */
export interface Grant {
  /** The token's; empty for the service's own. */
  readonly id: string;
  readonly scope: Scope;
  /** What page sessions of this token are made from. */
  readonly key: string;
}

/** The tokens that count at this moment: the service's own, and those that were made and are neither expired nor revoked. */
export interface TokenBook {
  find(token: string): Promise<Grant | null>;
  /** By the token's id; empty for the service's own. */
  byId(id: string): Promise<Grant | null>;
}

/** Opens the book over the data folder. A token that is made or revoked counts at once, without a restart. */
export function openTokenBook(
  dataFolder: string,
  { token, now }: { readonly token: string; readonly now: () => Instant },
): TokenBook {
  const own: Grant = { id: '', scope: 'admin', key: token };
  let seen = '';
  let records: readonly TokenRecord[] = [];
  const byId = async (id: string): Promise<Grant | null> => {
    if (id === '') return own;
    const state = await stateOf(tokenFile(dataFolder));
    if (state !== seen) {
      records = await listTokens(dataFolder);
      seen = state;
    }
    const record = records.find((one) => one.id === id);
    const isGood =
      record !== undefined && record.revokedAt === null && (record.expiresAt === null || record.expiresAt > now());
    return isGood ? { id, scope: record.scope, key: record.hash } : null;
  };
  return {
    byId,
    async find(given) {
      if (isSameSecret(given, token)) return own;
      const grant = await byId(given.split('.')[0] ?? '');
      return grant !== null && grant.id !== '' && isSameSecret(hashOf(given), grant.key) ? grant : null;
    },
  };
}

async function stateOf(file: string): Promise<string> {
  const found = await stat(file, { bigint: true }).catch(() => null);
  return found === null ? 'none' : `${found.ino} ${found.mtimeNs} ${found.size}`;
}
