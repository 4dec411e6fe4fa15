import { registerHooks } from 'node:module';
import type { Plugin } from '@quayside/step-sdk';
import { NotAPlugin } from './not-a-plugin.ts';

/**
 * Loads a plugin's module. A file that has no packages of its own finds the SDK of this host.
 * @throws NotAPlugin when its default export is none; whatever the module throws
 */
export async function pluginInModule(url: string): Promise<Plugin> {
  const own = import.meta.resolve('@quayside/step-sdk');
  registerHooks({
    resolve(specifier, context, next) {
      if (specifier !== '@quayside/step-sdk') return next(specifier, context);
      try {
        return next(specifier, context);
      } catch {
        return { url: own, shortCircuit: true };
      }
    },
  });
  const module: { readonly default?: unknown } = await import(url);
  const plugin = module.default;
  if (typeof plugin !== 'object' || plugin === null || !Array.isArray(Reflect.get(plugin, 'steps')))
    throw new NotAPlugin('It has no default export that is a plugin: write `export default definePlugin({ ... })`.');
  // From here on its members are looked at one by one, since whoever wrote it may not have had it type-checked.
  return plugin as Plugin;
}
