import { canUseBay } from '../bay/can-use-bay.ts';
import { runMany } from './run-many.ts';
import { sweepLeftOvers } from './studio/sweep-left-overs.ts';
import { TORTURE_HELP, tortureOptions } from './torture-options.ts';

const say = (line: string): void => void process.stdout.write(`${line}\n`);

async function main(): Promise<number> {
  const options = tortureOptions(process.argv.slice(2));
  if (options === 'help') {
    say(TORTURE_HELP);
    return 0;
  }
  const ability = await canUseBay();
  if (!ability.ok) {
    say(`The virtual drive bay cannot be used here: ${ability.reason}`);
    return 2;
  }
  const swept = await sweepLeftOvers();
  if (swept > 0) say(`${swept} studios of runs that were killed have been taken away.`);
  const stopping = new AbortController();
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP'] as const) {
    process.once(signal, () => {
      say(
        `Stopping (${signal}): the runs under way are finished and everything is taken away. Once more ends at once.`,
      );
      stopping.abort();
    });
  }
  say(`seed ${options.seed}, runs ${options.from} to ${options.from + options.runs - 1}, ${options.lanes} lanes`);
  const tally = await runMany(options, { say, signal: stopping.signal });
  for (const line of tally.lines) say(line);
  say(tally.sum);
  return tally.wrongVerdicts + tally.lostFiles + tally.stuck + tally.broken + tally.otherFaults === 0 ? 0 : 1;
}

process.exitCode = await main().catch((error: unknown) => {
  process.stderr.write(`${error instanceof Error ? (error.stack ?? error.message) : String(error)}\n`);
  return 2;
});
