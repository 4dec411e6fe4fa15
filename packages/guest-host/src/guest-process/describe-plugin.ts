import { fullNameOf, type Plugin, type Step } from '@quayside/step-sdk';
import { NotAPlugin } from './not-a-plugin.ts';
import { parseWith } from './parse-with.ts';

/** A plugin as data, unchecked: the host checks it. @throws NotAPlugin when a step comes after one that is nobody's */
export function describePlugin(plugin: Plugin): unknown {
  const { apiVersion, name, version, description = null, steps } = plugin;
  return { apiVersion, name, version, description, steps: steps.map((step) => describeStep(step)) };
}

function describeStep(step: Step): unknown {
  if (typeof step.run !== 'function') throw new NotAPlugin(`Step "${step.name}" has no function \`run\`.`);
  const objects = (step.after ?? []).flatMap((before) => (typeof before === 'string' ? [] : [before.name]));
  const twice = objects.find((name, place) => objects.indexOf(name) !== place);
  if (twice !== undefined)
    throw new NotAPlugin(
      `Step "${step.name}" comes after two steps called "${twice}": give one by its full name, as a text.`,
    );
  return {
    name: step.name,
    scope: step.scope,
    description: step.description ?? null,
    after: (step.after ?? []).map((before) => (typeof before === 'string' ? before : nameOf(before, step))),
    asks: step.asks ?? [],
    secrets: step.secrets ?? [],
    limits: step.limits ?? {},
    makesWay: step.makesWay ?? false,
  };
}

function nameOf(before: { readonly name: string }, step: Step): string {
  const name = fullNameOf(before);
  if (name === null)
    throw new NotAPlugin(
      `Step "${step.name}" comes after a step "${before.name}" that no plugin registers: add it to the \`steps\` of its plugin.`,
    );
  return name;
}

/** What is wrong with the operator's configuration of the plugin's steps, which is given by step. */
export async function faultsOfConfig(plugin: Plugin, config: unknown): Promise<{ step: string; text: string }[]> {
  const given = new Map(Object.entries(typeof config === 'object' && config !== null ? config : {}));
  const unknown = [...given.keys()].filter((name) => plugin.steps.every((step) => step.name !== name));
  const faults = unknown.map((step) => ({ step, text: `The plugin has no step "${step}".` }));
  for (const step of plugin.steps) {
    const parsed = await parseWith(step.config, given.get(step.name) ?? {});
    if (parsed.fault !== null) faults.push({ step: step.name, text: parsed.fault });
  }
  return faults;
}
