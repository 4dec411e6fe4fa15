import { makePage } from '@quayside/board';
import { findConfiguration } from '../config.ts';
import { EXIT, type ExitCode } from '../exit-codes.ts';
import { printable } from '../screen/printable.ts';
import { remark, say } from '../screen/say.ts';
import { isTerminal } from '../screen/terminal.ts';
import { logText } from '../supervise/log-text.ts';

/**
 * Runs the whole service until it is told to stop: SIGTERM, SIGINT, SIGHUP, or the end of a parent that started it with a
 * channel. A second signal ends everything at once.
 */
export async function start(options: { readonly config?: string }): Promise<ExitCode> {
  const found = await findConfiguration(options.config);
  // A reader of the log that goes away must not take the service along.
  process.stdout.on('error', () => undefined);
  const reports = {
    say: (sentence: string) => remark(`quayside: ${printable(sentence)}`),
    ...(isTerminal() ? { line: (line: string) => say(logText(line)) } : {}),
  };
  reports.say(`Starting with ${found.file}. This takes a few seconds, the first time a little longer.`);
  const stopAsked = waitForStop();
  // Not loaded before here, so that the first word comes at once.
  const { startService } = await import('../supervise/start-service.ts');
  const service = await startService(found, reports);
  for (const caution of service.cautions) reports.say(`Caution: ${caution}`);
  void service.ready.then(() => {
    reports.say('Quayside is ready. "quayside status" shows which drives may be recorded over.');
    const { port } = found.configuration.api;
    if (port !== 0) reports.say(`The page that shows it: http://127.0.0.1:${port}/`);
    process.send?.({ ready: true, pids: service.pids() });
    // After all that matters more; it only looks when the page is there as its sources want it.
    void makePage().then((fault) => (fault === null ? undefined : reports.say(fault)));
  });

  await stopAsked;
  reports.say('Stopping: work under way is put where the next start finds it. Press Ctrl-C again to end at once.');
  const again = waitForStop().then(() => {
    service.kill();
    return EXIT.interrupted;
  });
  const stopped = service.stop().then(() => EXIT.ok);
  return Promise.race([again, stopped]);
}

async function waitForStop(): Promise<void> {
  return new Promise((resolve) => {
    for (const signal of ['SIGTERM', 'SIGINT', 'SIGHUP'] as const) process.once(signal, () => resolve());
    if (process.connected) process.once('disconnect', () => resolve());
  });
}
