import { PluginDescription, QuaysideError } from '@quayside/shoot';
import { API_VERSIONS } from './api-versions.ts';
import { broken, type GuestPool } from './guest-pool.ts';
import type { PluginSource } from './plugin-source/find-plugin.ts';

const DESCRIBE_WITHIN_MS = 15_000;
const LIMITS = { memoryMb: 512, programsMb: 0, outputMb: 1 };

/** What a plugin says of itself. */
export interface Described {
  readonly source: PluginSource;
  readonly plugin: PluginDescription;
}

/** Has a plugin described, and the operator's configuration of its steps looked at, in a process that can read the plugin and nothing else. */
export async function describeInGuest(pool: GuestPool, source: PluginSource, config: unknown): Promise<Described> {
  const rights = { source, copyFolders: [], grants: [], ...LIMITS };
  const guest = await pool.take(rights, { plugin: source.use });
  const { promise, resolve, reject } = Promise.withResolvers<Described>();
  const fail = (why: string): void => reject(broken(source.use, why));
  guest.listen({
    message: (said) => {
      if (said.type === 'broken') return fail(said.text);
      if (said.type !== 'described') return fail('it sent a message that no plugin sends.');
      try {
        resolve({ source, plugin: described(source, said) });
      } catch (error) {
        reject(error);
      }
    },
    printed: () => undefined,
    breach: (what) => fail(`it ${what}.`),
    ended: ({ code, signal }) => fail(`its process ended (${signal ?? `exit code ${code}`}).`),
  });
  const limit = setTimeout(() => fail(`it took longer than ${DESCRIBE_WITHIN_MS / 1000} s.`), DESCRIBE_WITHIN_MS);
  guest.send({ type: 'describe', config });
  try {
    return await promise;
  } finally {
    clearTimeout(limit);
    await pool.giveBack(guest, false);
  }
}

function described(
  { use }: PluginSource,
  {
    plugin: raw,
    configFaults,
  }: { readonly plugin?: unknown; readonly configFaults: readonly { step: string; text: string }[] },
): PluginDescription {
  const version = typeof raw === 'object' && raw !== null ? Reflect.get(raw, 'apiVersion') : undefined;
  if (!API_VERSIONS.includes(version)) throw otherVersion(use, version);
  const parsed = PluginDescription.safeParse(raw);
  if (!parsed.success) {
    const [issue] = parsed.error.issues;
    const place = issue?.path.map(String).join('.') ?? '';
    throw invalid(use, `${place === '' ? '' : `at "${place}": `}${issue?.message ?? 'no reason given'}.`);
  }
  const names = parsed.data.steps.map(({ name }) => name);
  const twice = names.find((name, place) => names.indexOf(name) !== place);
  if (twice !== undefined) throw invalid(use, `two of its steps are called "${twice}".`);
  const [fault] = configFaults;
  if (fault !== undefined) throw badConfig(use, fault);
  return parsed.data;
}

function otherVersion(use: string, version: unknown): QuaysideError {
  return new QuaysideError({
    code: 'PLUGIN_API_VERSION',
    sentence: `Plugin "${use}" was written for version ${String(version)} of the contract, and this host runs ${API_VERSIONS.join(' and ')}. Install a version of the plugin that fits, or another Quayside.`,
    retry: 'never',
  });
}

function invalid(use: string, why: string): QuaysideError {
  return new QuaysideError({
    code: 'PLUGIN_INVALID',
    sentence: `Plugin "${use}" does not keep the contract: ${why} Its author must correct it.`,
    retry: 'never',
  });
}

function badConfig(use: string, { step, text }: { readonly step: string; readonly text: string }): QuaysideError {
  return new QuaysideError({
    code: 'PLUGIN_BAD_CONFIG',
    sentence: `The configuration of step "${step}" of plugin "${use}" does not fit its schema: ${text} Correct it under \`plugins\`.`,
    retry: 'never',
  });
}
