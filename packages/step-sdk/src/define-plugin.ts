import type { Step } from './step.ts';

/** The version of this contract. The README says for how long a host keeps which. */
export const API_VERSION = 1;

/** A package, or one file, whose default export registers steps. */
export interface Plugin {
  /** The version of the contract that it was written for. */
  readonly apiVersion: typeof API_VERSION;
  /** Lower-case letters, digits and hyphens. Its steps are known as `<name>/<step>`, its findings as `<name>/<CODE>`. */
  readonly name: string;
  /** Raise it whenever a step would give another output: what was run by another version is run again. */
  readonly version: string;
  /** One sentence for the operator. */
  readonly description?: string;
  readonly steps: readonly Step[];
}

/** States a plugin: the default export of its file or package. A step belongs to the plugin that names it first. */
export function definePlugin(plugin: Plugin): Plugin {
  for (const step of plugin.steps) {
    // A plugin that comes after this step may have its own copy of the SDK, so the mark is on the step and under a shared symbol.
    if (!(OWNER in step)) Object.defineProperty(step, OWNER, { value: plugin.name });
  }
  return plugin;
}

const OWNER = Symbol.for('quayside.plugin');

/** The full name of a step that a plugin has registered: `<plugin>/<step>`. Null when none has. */
export function fullNameOf(step: { readonly name: string }): string | null {
  const owner: unknown = Reflect.get(step, OWNER);
  return typeof owner === 'string' ? `${owner}/${step.name}` : null;
}
