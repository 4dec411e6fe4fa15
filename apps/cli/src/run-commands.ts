import type { Command } from 'commander';
import type { ExitCode } from './exit-codes.ts';
import { CONFIG, JSON_OUT, wholeNumber } from './usual-options.ts';

/** The commands about plugins that are in use, and their runs. */
export function addRunCommands(program: Command, done: (code: ExitCode) => void): void {
  program
    .command('plugins')
    .description('the plugins of the configuration, and why one is left out')
    .option(...CONFIG)
    .option(...JSON_OUT)
    .action(async (options) => done(await (await import('./commands/plugins.ts')).listPlugins(options)));

  const runs = program
    .command('runs')
    .description("the runs of plugins' steps, the newest first, and why each was made; or one of them with its log")
    .argument('[run]', 'its id')
    .option(...CONFIG)
    .option(...JSON_OUT)
    .option('--shoot <id>', 'of this shoot')
    .option('--step <name>', 'of this step, "plugin/step"')
    .option('--state <state>', 'running, done, skipped, failed or cancelled')
    .option('-n, --last <count>', 'how many', wholeNumber, 50)
    .action(async (id: string | undefined, options) =>
      done(await (await import('./commands/runs.ts')).listRuns(id, options)),
    );
  for (const [action, what] of [
    ['cancel', 'stop a run that is under way'],
    ['skip', 'leave a run out until its subject, its configuration or its plugin changes'],
  ] as const) {
    runs
      .command(action)
      .description(what)
      .argument('<run>')
      .option(...CONFIG)
      .action(async (id: string, options) =>
        done(await (await import('./commands/runs.ts')).steerRun(action, id, options)),
      );
  }
}
