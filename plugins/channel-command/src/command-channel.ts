import { CommandSettings } from '@quayside/messages';
import { defineChannel } from '@quayside/channel-contract';
import { runProgram } from './run-program.ts';

/** Runs a local program for each letter, with the letter as JSON on its standard input. Exit code 0 counts as delivered. */
export const commandChannel = defineChannel({
  kind: 'command',
  settings: CommandSettings,
  async send({ letter, settings, context }) {
    const { html: _, ...said } = letter;
    await runProgram(settings, { input: `${JSON.stringify(said)}\n`, context });
  },
});
