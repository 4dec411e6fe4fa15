import { failureOf } from '@quayside/shoot';
import { commandLine } from './command-line.ts';
import { EXIT, type ExitCode } from './exit-codes.ts';
import { remark } from './screen/say.ts';

const interrupt = new AbortController();
let code: ExitCode = EXIT.ok;

try {
  const program = commandLine({
    signal: interrupt.signal,
    done: (outcome) => {
      code = outcome;
    },
  });
  // `start` ends in its own way, and a command that asks one question just ends.
  program.hook('preAction', (_program, command) => {
    if (command.name() === 'start') return;
    for (const signal of ['SIGINT', 'SIGTERM'] as const) {
      process.once(signal, () => {
        interrupt.abort();
        // A command that does not listen to the signal is not waited for.
        setTimeout(() => process.exit(EXIT.interrupted), 2_000).unref();
      });
    }
    // A reader that has seen enough, such as `head`, is no failure worth a word.
    process.stdout.on('error', () => process.exit(EXIT.failed));
  });
  await program.parseAsync();
} catch (error) {
  code = codeFor(error);
}
process.exit(code);

function codeFor(error: unknown): ExitCode {
  // Commander has said what is wrong by itself; help and version are no mistakes.
  if (error instanceof Error && 'exitCode' in error) return error.exitCode === 0 ? EXIT.ok : EXIT.usage;
  if (interrupt.signal.aborted) return EXIT.interrupted;
  const { code: reason, sentence } = failureOf(error);
  remark(sentence);
  return reason.startsWith('CONFIG_') ? EXIT.usage : EXIT.failed;
}
