import type { Command } from 'commander';
import type { ExitCode } from './exit-codes.ts';
import { CONFIG, JSON_OUT } from './usual-options.ts';

/** The commands about the proxies of a shoot: to see the plan, and to have it approved, held, made anew or stopped. */
export function addProxyCommands(program: Command, done: (code: ExitCode) => void): void {
  program
    .command('plan')
    .description('which clips of a shoot get a proxy, what these weigh and take, and how far they are')
    .argument('[shoot]', 'its id; the newest when none is given')
    .option(...CONFIG)
    .option(...JSON_OUT)
    .action(async (id: string | undefined, options) =>
      done(await (await import('./commands/proxy-plan.ts')).showProxyPlan(id, options)),
    );

  const proxies = program
    .command('proxies')
    .description('approve, hold, replan, render or cancel the proxies of a shoot');
  for (const [word, what] of [
    ['approve', 'let the proxies of the plan be made, where they wait for that or are held'],
    ['hold', 'begin none until the plan is approved; those under way are finished'],
  ] as const)
    proxies
      .command(word)
      .description(what)
      .argument('[shoot]', 'its id; the newest when none is given')
      .option('--note <text>', 'what you say about it')
      .option(...CONFIG)
      .option(...JSON_OUT)
      .action(async (id: string | undefined, options) =>
        done(await (await import('./commands/proxy-orders.ts')).sayOfPlan(word, id, options)),
      );
  for (const [word, what] of [
    ['replan', 'plan anew, with the room that there is now and what was measured since'],
    ['render', 'make those that failed or were stopped'],
    ['cancel', 'stop those that are being made, and hold the plan unless clips are named'],
  ] as const) {
    const command = proxies
      .command(word)
      .description(what)
      .argument('[shoot]', 'its id; the newest when none is given')
      .option(...CONFIG)
      .option(...JSON_OUT);
    if (word !== 'replan') command.option('--clip <id...>', 'only these clips, as "quayside plan --json" names them');
    command.action(async (id: string | undefined, options) =>
      done(await (await import('./commands/proxy-orders.ts')).orderProxies(word, id, options)),
    );
  }
}
