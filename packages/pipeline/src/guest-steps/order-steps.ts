import { BuiltInStep, type Failure, type Grant, type PluginDescription, type StepDescription } from '@quayside/shoot';

/** A plugin that the operator uses, with what was granted to it. */
export interface PluginInUse {
  readonly plugin: PluginDescription;
  readonly grants: readonly Grant[];
  /** The names of the secrets that are set for it. */
  readonly secrets: readonly string[];
}

/** A guest's step in the graph. */
export interface GuestStep extends StepDescription {
  /** `<plugin>/<step>`. */
  readonly fullName: string;
  readonly plugin: string;
  readonly version: string;
}

export interface OrderedSteps {
  /** Each after all that it comes after. */
  readonly steps: readonly GuestStep[];
  /** Why a plugin is left out, with all of its steps. The others go on without it. */
  readonly faults: readonly { readonly plugin: string; readonly failure: Failure }[];
}

/** Orders the steps of all plugins by what they come after. A plugin with a fault is left out, and so is one that builds on it. */
export function orderSteps(plugins: readonly PluginInUse[]): OrderedSteps {
  const clashes = plugins.filter(
    ({ plugin }, place) => plugins.findIndex((other) => other.plugin.name === plugin.name) !== place,
  );
  const faults = clashes.map(({ plugin }) => ({ plugin: plugin.name, failure: clash(plugin.name) }));
  let left = plugins.filter((one) => !clashes.includes(one));
  for (;;) {
    const found = left.flatMap((one) => faultsOf(one, left).slice(0, 1));
    if (found.length === 0) break;
    faults.push(...found);
    left = left.filter(({ plugin }) => found.every((fault) => fault.plugin !== plugin.name));
  }
  const { steps, inCycles } = sortedByDependency(left.flatMap(stepsOf));
  if (inCycles.length === 0) return { steps, faults };
  const guilty = new Set(inCycles.map(({ plugin }) => plugin));
  const rest = orderSteps(left.filter(({ plugin }) => !guilty.has(plugin.name)));
  const cycles = [...guilty].map((plugin) => ({ plugin, failure: cycle(plugin, inCycles) }));
  return { steps: rest.steps, faults: [...faults, ...cycles, ...rest.faults] };
}

function stepsOf({ plugin: { name, version, steps } }: PluginInUse): readonly GuestStep[] {
  return steps.map((step) => ({ ...step, fullName: `${name}/${step.name}`, plugin: name, version }));
}

function faultsOf(one: PluginInUse, all: readonly PluginInUse[]): OrderedSteps['faults'] {
  const names = new Set(all.flatMap((other) => stepsOf(other)).map(({ fullName }) => fullName));
  return one.plugin.steps.flatMap((step) => {
    const plugin = one.plugin.name;
    const unknown = step.after.find((name) => !BuiltInStep.safeParse(name).success && !names.has(name));
    if (unknown !== undefined) return [{ plugin, failure: unknownStep(plugin, step.name, unknown) }];
    const grant = step.asks.find((asked) => !one.grants.includes(asked));
    if (grant !== undefined) return [{ plugin, failure: notGranted(plugin, step.name, grant) }];
    const secret = step.secrets.find((name) => !one.secrets.includes(name));
    return secret === undefined ? [] : [{ plugin, failure: noSecret(plugin, step.name, secret) }];
  });
}

function sortedByDependency(all: readonly GuestStep[]): {
  readonly steps: readonly GuestStep[];
  readonly inCycles: readonly GuestStep[];
} {
  const steps: GuestStep[] = [];
  let left = all;
  for (;;) {
    const waiting = new Set(left.map(({ fullName }) => fullName));
    const next = left.filter(({ after }) => after.every((name) => !waiting.has(name)));
    if (next.length === 0) return { steps, inCycles: onCycle(left) };
    steps.push(...next);
    left = left.filter((step) => !next.includes(step));
  }
}

/** Of steps that wait for each other, those that also are waited for: the rest only stands behind a cycle. */
function onCycle(left: readonly GuestStep[]): readonly GuestStep[] {
  const waitedFor = left.filter(({ fullName }) => left.some(({ after }) => after.includes(fullName)));
  return waitedFor.length === left.length ? left : onCycle(waitedFor);
}

const REMEDY = 'Correct it, or turn it off under `plugins` in the configuration.';

function clash(plugin: string): Failure {
  return never('PLUGIN_CLASH', `Two plugins in use are called "${plugin}"; the second is left out. ${REMEDY}`);
}

function unknownStep(plugin: string, step: string, unknown: string): Failure {
  const why = `comes after "${unknown}", which no plugin in use has`;
  return never('PLUGIN_STEP_UNKNOWN', `Step "${step}" of plugin "${plugin}" ${why}. ${REMEDY}`);
}

function cycle(plugin: string, steps: readonly GuestStep[]): Failure {
  const names = steps.map(({ fullName }) => fullName).join(', ');
  return never('PLUGIN_CYCLE', `Plugin "${plugin}" cannot run: its steps wait for each other (${names}). ${REMEDY}`);
}

function notGranted(plugin: string, step: string, grant: string): Failure {
  const remedy = `If you trust it with that, add ${grant} to its \`grants\` in the configuration; the README of the SDK says what that exposes.`;
  return never('PLUGIN_GRANT_MISSING', `Step "${step}" of plugin "${plugin}" asks for "${grant}". ${remedy}`);
}

function noSecret(plugin: string, step: string, secret: string): Failure {
  const remedy = 'Set it under `secrets` of the plugin in the configuration.';
  return never('PLUGIN_SECRET_MISSING', `Step "${step}" of plugin "${plugin}" needs the secret "${secret}". ${remedy}`);
}

function never(code: string, sentence: string): Failure {
  return { code, sentence, retry: 'never' };
}
