import { VERSION } from '@quayside/shoot';
import { Command, InvalidArgumentError, Option } from 'commander';
import type { Kept } from './commands/verify-kept.ts';
import { type ExitCode, EXIT_CODES_TOLD } from './exit-codes.ts';
import { addProxyCommands } from './proxy-commands.ts';
import { addRunCommands } from './run-commands.ts';
import { CONFIG, JSON_OUT, wholeNumber } from './usual-options.ts';
import { driveSizeOf } from './screen/quantities.ts';

export interface CommandLine {
  /** Aborted by Ctrl-C, for the commands that go on until then. */
  readonly signal: AbortSignal;
  /** Called with what the command came to. */
  readonly done: (code: ExitCode) => void;
}

/**
 * The commands, each loading its own code only when it is called: the service then holds no memory for the others. A
 * wrong command line throws commander's error instead of ending the process.
 */
export function commandLine({ signal, done }: CommandLine): Command {
  const program = new Command('quayside')
    .description(
      'Unattended ingest for a multicam studio: copies, proves, files, and says which drives may be recorded over.',
    )
    .version(VERSION)
    .exitOverride()
    .configureOutput({
      outputError: (text, write) => write(text.replace(/^error: (.)/, (_, first: string) => first.toUpperCase())),
    })
    .addHelpText('after', EXIT_CODES_TOLD);

  program
    .command('start')
    .description('run the service until it is told to stop')
    .option(...CONFIG)
    .action(async (options) => done(await (await import('./commands/start.ts')).start(options)));

  program
    .command('status')
    .description('which drives may be recorded over, and how everything stands')
    .option(...CONFIG)
    .option(...JSON_OUT)
    .option('-w, --watch', 'keep looking until Ctrl-C')
    .action(async (options) => done(await (await import('./commands/status.ts')).showStatus(options, signal)));

  program
    .command('volumes')
    .description('every volume that was seen, unclaimed ones included')
    .option(...CONFIG)
    .option(...JSON_OUT)
    .action(async (options) => done(await (await import('./commands/volumes.ts')).listVolumes(options)));

  program
    .command('assign')
    .description('say which recorder a volume belongs to')
    .argument('<volume>', 'its key, as "quayside volumes" shows it')
    .argument('<recorder>', 'a recorder of the configuration')
    .option(...CONFIG)
    .option('--shoot <id>', 'the shoot that its footage goes to')
    .action(async (volume: string, recorder: string, options) =>
      done(await (await import('./commands/volumes.ts')).assignVolume(volume, recorder, options)),
    );

  program
    .command('shoots')
    .description('the shoots, newest first')
    .option(...CONFIG)
    .option(...JSON_OUT)
    .action(async (options) => done(await (await import('./commands/shoots.ts')).listShoots(options)));

  const shoot = program.command('shoot').description('open or close a shoot');
  shoot
    .command('open')
    .description('open a shoot by name; rolls that arrive go to it')
    .argument('<name>')
    .option(...CONFIG)
    .option(...JSON_OUT)
    .action(async (name: string, options) =>
      done(await (await import('./commands/shoots.ts')).openShoot(name, options)),
    );
  shoot
    .command('close')
    .description('close a shoot; rolls that arrive go elsewhere')
    .argument('<id>')
    .option(...CONFIG)
    .option(...JSON_OUT)
    .action(async (id: string, options) => done(await (await import('./commands/shoots.ts')).closeShoot(id, options)));

  program
    .command('takes')
    .description('what ran together in a shoot, and where it can be edited now')
    .argument('[shoot]', 'its id; the newest when none is given')
    .option(...CONFIG)
    .option(...JSON_OUT)
    .action(async (id: string | undefined, options) =>
      done(await (await import('./commands/takes.ts')).listTakes(id, options)),
    );

  program
    .command('findings')
    .description('what went wrong in a shoot, the gravest first')
    .argument('[shoot]', 'its id; the newest when none is given')
    .option(...CONFIG)
    .option(...JSON_OUT)
    .action(async (id: string | undefined, options) =>
      done(await (await import('./commands/takes.ts')).listFindings(id, options)),
    );

  program
    .command('acknowledge')
    .description('note that you have seen a finding')
    .argument('<finding>', 'its id, as "quayside findings" shows it')
    .option(...CONFIG)
    .option(...JSON_OUT)
    .option('--shoot <id>', 'the shoot; the newest when none is given')
    .option('--note <text>', 'what you say about it')
    .option('--by <name>', 'who says so; the user that is logged in when not given')
    .action(async (finding: string, options) =>
      done(await (await import('./commands/takes.ts')).acknowledgeFinding(finding, options)),
    );

  addProxyCommands(program, done);

  program
    .command('capacity')
    .description('whether a shoot fits on drives and destinations, and how long it takes to bring in')
    .requiredOption('--format <format>', 'what is recorded, such as prores-422-lt/3840x2160/23.976')
    .requiredOption('--hours <hours>', 'how long each recorder records')
    .option('--recorders <which>', 'how many, or which: 4, or wheel,hands; all cameras when not given')
    .option('--drive <size>', 'the size of an empty drive in each; what is connected when not given', driveSize)
    .option(...CONFIG)
    .option(...JSON_OUT)
    .action(async (options) => done(await (await import('./commands/capacity.ts')).showCapacity(options)));

  program
    .command('roll')
    .description('move a roll')
    .command('move')
    .description('move a roll that is not sealed yet to another shoot')
    .argument('<roll>')
    .argument('<shoot>', 'the id of the shoot')
    .option(...CONFIG)
    .action(async (roll: string, to: string, options) =>
      done(await (await import('./commands/rolls.ts')).moveRoll(roll, to, options)),
    );

  program
    .command('retry')
    .description('take up again what failed of a roll, of a shoot, or in one run')
    .argument('<what>', 'the id of a roll, a shoot or a run')
    .option(...CONFIG)
    .option('-s, --step <name>', 'in this step only: probe, ingest, checksum, seal, clearance, sync-grouping, records')
    .option('-d, --destination <name>', 'at this destination only')
    .action(async (id: string, options) => done(await (await import('./commands/retry.ts')).retry(id, options)));

  program
    .command('rebuild')
    .description('hold what the service knows against the records beside the footage, and take over what it lacks')
    .option(...CONFIG)
    .option(...JSON_OUT)
    .option('--shoot <id>', 'this shoot only')
    .action(async (options) => done(await (await import('./commands/rebuild.ts')).rebuild(options, signal)));

  addRunCommands(program, done);

  program
    .command('events')
    .description('what happened, oldest first')
    .option(...CONFIG)
    .option(...JSON_OUT)
    .option('-f, --follow', 'show what happens from now on, until Ctrl-C')
    .option('-n, --last <count>', 'how many of the past', wholeNumber, 50)
    .action(async (options) => done(await (await import('./commands/events.ts')).showEvents(options, signal)));

  const token = program.command('token').description('make, list and revoke tokens for the API');
  token
    .command('make')
    .description('make a token and print it, this once')
    .argument('<name>', 'whom or what it is for')
    .requiredOption('-s, --scope <scope>', 'what it allows: read, operate or admin')
    .option('--days <count>', 'for how many days it counts; for ever when not given', wholeNumber)
    .option(...CONFIG)
    .option(...JSON_OUT)
    .action(async (name: string, options) =>
      done(await (await import('./commands/tokens.ts')).makeApiToken(name, options)),
    );
  token
    .command('list')
    .description('the tokens that were made, the void ones too')
    .option(...CONFIG)
    .option(...JSON_OUT)
    .action(async (options) => done(await (await import('./commands/tokens.ts')).listApiTokens(options)));
  token
    .command('revoke')
    .description('make a token void from now on')
    .argument('<id>', 'as "quayside token list" shows it')
    .option(...CONFIG)
    .action(async (id: string, options) =>
      done(await (await import('./commands/tokens.ts')).revokeApiToken(id, options)),
    );

  program
    .command('channels')
    .description('the channels that messages go by, and how they fare')
    .option(...CONFIG)
    .option(...JSON_OUT)
    .action(async (options) => done(await (await import('./commands/messages.ts')).listChannels(options)));

  const messages = program.command('messages').description('what was told, a preview, or a test of a channel');
  messages
    .command('list')
    .description('what was told to whom and what is still to be sent, the newest last')
    .option('--channel <name>', 'of this channel only')
    .option('--state <state>', 'waiting, due, sent, given-up or superseded')
    .option('--last <count>', 'how many, 1 to 1000', wholeNumber, 20)
    .option(...CONFIG)
    .option(...JSON_OUT)
    .action(async (options) => done(await (await import('./commands/messages.ts')).listMessages(options)));
  messages
    .command('preview')
    .description('show a message of a kind as it would be sent, made up; needs no service')
    .argument('<kind>', 'such as roll.clear, roll.hold or drive.pulled')
    .option(...CONFIG)
    .option(...JSON_OUT)
    .option('--html', 'the form for mail programs')
    .action(async (kind: string, options) =>
      done(await (await import('./commands/messages.ts')).previewMessage(kind, options)),
    );
  messages
    .command('test')
    .description('send a test by one channel, and say what became of it')
    .argument('<channel>', 'its name, as "quayside channels" shows it')
    .option(...CONFIG)
    .action(async (channel: string, options) =>
      done(await (await import('./commands/messages.ts')).testChannel(channel, options, signal)),
    );

  program
    .command('verify')
    .description('read what is kept again: a roll folder without the service, or a shoot or destination by the service')
    .argument('[folder]', 'a roll at a destination')
    .addOption(new Option('--shoot <id>', 'all rolls of this shoot, by the service').conflicts('destination'))
    .option('--destination <name>', 'all that lies at this destination, by the service')
    .option(...CONFIG)
    .option(...JSON_OUT)
    .option('--no-record', 'add no generation to the manifests of the folder')
    .action(async (folder: string | undefined, { shoot: shootId, destination, ...options }, command: Command) => {
      const kept = keptOf(shootId, destination);
      if ((folder === undefined) === (kept === null))
        command.error('error: name either a folder, or --shoot or --destination.', { exitCode: 1 });
      if (kept !== null)
        return done(await (await import('./commands/verify-kept.ts')).verifyKept(kept, options, signal));
      if (folder !== undefined) done(await (await import('./commands/verify.ts')).verify(folder, options, signal));
    });

  program
    .command('plugin')
    .description('write steps of your own')
    .command('new')
    .description('make a folder with a plugin to start from: one step, its test, types; needs no service')
    .argument('<name>', 'lower-case letters, digits and hyphens')
    .option('--in <folder>', 'where the folder is made', '.')
    .action(async (name: string, options) =>
      done(await (await import('./commands/plugin.ts')).makePlugin(name, options)),
    );

  program
    .command('config')
    .description('print the configuration as it takes effect')
    .option(...CONFIG)
    .option('--schema', 'print the JSON Schema of the file instead')
    .option('--check', 'only say whether it is good')
    .action(async (options) => done(await (await import('./commands/config.ts')).showConfig(options)));

  return program;
}

function keptOf(shoot: string | undefined, destination: string | undefined): Kept | null {
  if (shoot !== undefined) return { kind: 'shoot', id: shoot };
  return destination === undefined ? null : { kind: 'destination', id: destination };
}

function driveSize(text: string): number {
  const bytes = driveSizeOf(text);
  if (bytes !== null) return bytes;
  throw new InvalidArgumentError('It must be a size such as 960GB, 1TB or 512GiB.');
}
