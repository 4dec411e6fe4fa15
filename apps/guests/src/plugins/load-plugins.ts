import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import { resolve } from 'node:path';
import type { Configuration } from '@quayside/configuration';
import { findPlugin, type GuestHost, type PluginSource } from '@quayside/guest-host';
import { orderSteps, type GuestStep } from '@quayside/pipeline';
import { failureOf, type Grant, type PluginDescription, type PluginStanding } from '@quayside/shoot';

type Wanted = Configuration['plugins'][number];

/** A plugin that is in use, with all that a run of its steps needs. */
export interface LoadedPlugin {
  readonly source: PluginSource;
  readonly plugin: PluginDescription;
  readonly grants: readonly Grant[];
  readonly config: Readonly<Record<string, unknown>>;
  readonly secrets: Readonly<Record<string, string>>;
  readonly parallel: number;
  /** Whether those of its steps that say so stand still while drives are being taken in. */
  readonly makesWay: boolean;
}

export interface LoadedPlugins {
  /** In order; none of a plugin that was left out. */
  readonly steps: readonly GuestStep[];
  readonly plugins: ReadonlyMap<string, LoadedPlugin>;
  /** Digest of the configuration by full name of the step. */
  readonly configs: ReadonlyMap<string, string>;
  readonly standings: readonly PluginStanding[];
}

export interface LoadParts {
  readonly host: GuestHost;
  readonly folder: string;
  readonly environment: Readonly<Record<string, string | undefined>>;
}

/** Loads the plugins of the configuration, each in a process of its own. One that cannot be used is left out, with its reason. */
export async function loadPlugins(wanted: readonly Wanted[], parts: LoadParts): Promise<LoadedPlugins> {
  const tried = await Promise.all(wanted.map((one) => tryLoading(one, parts)));
  const loaded = tried.flatMap(({ loaded: one }) => one ?? []);
  const inUse = loaded.map((one) => ({ ...one, secrets: Object.keys(one.secrets) }));
  const { steps, faults } = orderSteps(inUse);
  const used = new Set(steps.map(({ plugin }) => plugin));
  const faultOf = new Map(faults.map(({ plugin, failure }) => [plugin, failure]));
  return {
    steps,
    plugins: new Map(loaded.filter(({ plugin }) => used.has(plugin.name)).map((one) => [one.plugin.name, one])),
    configs: new Map(steps.map((step) => [step.fullName, digestOf(configOf(loaded, step.plugin)[step.name] ?? {})])),
    standings: tried.map(({ standing }) => ({
      ...standing,
      failure: standing.failure ?? faultOf.get(standing.plugin?.name ?? '') ?? null,
    })),
  };
}

async function tryLoading(
  { use, isOn, grants, config, secrets, parallel, makesWay }: Wanted,
  { host, folder, environment }: LoadParts,
): Promise<{ readonly standing: PluginStanding; readonly loaded: LoadedPlugin | null }> {
  const standing: PluginStanding = { use, isOn, grants, plugin: null, failure: null };
  if (!isOn) return { standing, loaded: null };
  try {
    const source = await findPlugin(use, folder);
    const { plugin } = await host.describe(source, config);
    const known = await Promise.all(
      Object.entries(secrets).map(async ([name, where]) => {
        const secret =
          'file' in where
            ? (await readFile(resolve(folder, where.file), 'utf8')).replace(/\r?\n$/, '')
            : environment[where.environment];
        return secret === undefined ? [] : [[name, secret] as const];
      }),
    );
    const loaded = { source, plugin, grants, config, secrets: Object.fromEntries(known.flat()), parallel, makesWay };
    return { standing: { ...standing, plugin }, loaded };
  } catch (error) {
    return { standing: { ...standing, failure: failureOf(error) }, loaded: null };
  }
}

function configOf(loaded: readonly LoadedPlugin[], name: string): Readonly<Record<string, unknown>> {
  return loaded.find(({ plugin }) => plugin.name === name)?.config ?? {};
}

/** A short text that is equal when and only when the values are, as JSON. */
export function digestOf(value: unknown): string {
  return createHash('sha256')
    .update(typeof value === 'string' ? value : JSON.stringify(value))
    .digest('hex')
    .slice(0, 32);
}
