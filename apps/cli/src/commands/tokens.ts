import { listTokens, makeToken, revokeToken, Scope, type TokenRecord } from '@quayside/admin-api';
import { findConfiguration } from '../config.ts';
import { EXIT, type ExitCode } from '../exit-codes.ts';
import { columns } from '../screen/columns.ts';
import { printable } from '../screen/printable.ts';
import { momentText } from '../screen/quantities.ts';
import { remark, say, sayJson } from '../screen/say.ts';

interface Options {
  readonly config?: string;
  readonly json?: boolean;
}

const DAY_MS = 24 * 60 * 60 * 1000;

/** Makes a token for somebody and prints it, this once. It counts at once, also for a service that runs. */
export async function makeApiToken(
  name: string,
  options: Options & { readonly scope: string; readonly days?: number },
): Promise<ExitCode> {
  const scope = Scope.safeParse(options.scope);
  if (!scope.success) {
    remark(`There is no scope "${options.scope}". The scopes are ${Scope.options.join(', ')}.`);
    return EXIT.usage;
  }
  const { configuration } = await findConfiguration(options.config);
  const now = Date.now();
  const expiresAt = options.days === undefined ? null : new Date(now + options.days * DAY_MS).toISOString();
  const wish = { name, scope: scope.data, expiresAt };
  const { token, record } = await makeToken(configuration.data, wish, new Date(now).toISOString());
  if (options.json === true) sayJson({ token, ...shown(record) });
  else {
    say(token);
    remark(
      `It is shown this once. It allows ${record.scope}${untilText(record)}; "quayside token revoke ${record.id}" ends it.`,
    );
  }
  return EXIT.ok;
}

/** Lists the tokens that were made, the void ones too; the tokens themselves are nowhere. */
export async function listApiTokens(options: Options): Promise<ExitCode> {
  const { configuration } = await findConfiguration(options.config);
  const tokens = await listTokens(configuration.data);
  if (options.json === true) sayJson(tokens.map(shown));
  else if (tokens.length === 0) say(`No token was made. The service's own is in ${configuration.data}/token.`);
  else say(...columns([['ID', 'NAME', 'SCOPE', 'STANDING'], ...tokens.map(tokenRow)]));
  return EXIT.ok;
}

/** Makes a token void from now on. */
export async function revokeApiToken(id: string, options: Options): Promise<ExitCode> {
  const { configuration } = await findConfiguration(options.config);
  const revoked = await revokeToken(configuration.data, id, new Date().toISOString());
  if (revoked === null) {
    remark(`There is no token ${printable(id)}. See "quayside token list".`);
    return EXIT.failed;
  }
  say(`Token ${id} (${printable(revoked.name)}) opens nothing any more.`);
  return EXIT.ok;
}

function shown(record: TokenRecord): Omit<TokenRecord, 'hash'> {
  const { hash: _, ...rest } = record;
  return rest;
}

function tokenRow(record: TokenRecord): readonly string[] {
  const { id, name, scope, revokedAt, expiresAt } = record;
  const isOver = expiresAt !== null && expiresAt <= new Date().toISOString();
  const standing =
    revokedAt === null ? (isOver ? 'expired' : `good${untilText(record)}`) : `revoked ${momentText(revokedAt)}`;
  return [id, printable(name), scope, standing];
}

function untilText({ expiresAt }: TokenRecord): string {
  return expiresAt === null ? '' : ` until ${momentText(expiresAt)}`;
}
