import type { AnswerOf } from '@quayside/api-client';
import { EXIT, type ExitCode } from '../exit-codes.ts';
import { columns } from '../screen/columns.ts';
import { printable } from '../screen/printable.ts';
import { say, sayJson } from '../screen/say.ts';
import { reachServiceOf } from '../service-api/reach-service.ts';

type PluginStanding = AnswerOf<'get', '/v1/plugins'>['plugins'][number];

interface Options {
  readonly config?: string;
  readonly json?: boolean;
}

/** Lists the plugins of the configuration: what each may do and has, and why one is left out. */
export async function listPlugins(options: Options): Promise<ExitCode> {
  const { plugins } = await (await reachServiceOf(options)).get('/v1/plugins');
  if (options.json === true) sayJson(plugins);
  else if (plugins.length === 0) say('The configuration names no plugins. "quayside plugin new NAME" makes one.');
  else {
    say(...columns([['PLUGIN', 'VERSION', 'STEPS', 'GRANTS', 'FROM'], ...plugins.map(rowOf)]));
    for (const { failure } of plugins) if (failure !== null) say('', printable(failure.sentence));
  }
  return EXIT.ok;
}

function rowOf({ use, isOn, grants, plugin, failure }: PluginStanding): readonly string[] {
  const standing = isOn ? (failure === null ? null : 'LEFT OUT') : 'off';
  const steps = plugin?.steps.map(({ name }) => name).join(' ') ?? '';
  return [plugin?.name ?? '?', plugin?.version ?? '?', standing ?? steps, grants.join(' ') || 'none', printable(use)];
}
