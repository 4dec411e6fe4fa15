import { failureOf, QuaysideError } from '@quayside/shoot';
import type { LogLine } from './log-lines.ts';
import { sendReady } from './supervisor-messages.ts';

/** Ends the work of a process in order. */
export type Stop = () => Promise<void>;

/**
 * Runs one process of the service: `start` settles when it does its work, which the supervisor is told, and its `Stop` is
 * called once when the process is to end: by SIGTERM, with its supervisor, or by Ctrl-C when it has none. Whatever goes
 * wrong, at the start or later, is one sentence in the log and exit code 1; the supervisor starts it again.
 */
export async function runProcess(log: LogLine, start: () => Promise<Stop>): Promise<void> {
  const fail = (error: unknown): never => {
    log(failureOf(error).sentence, { level: 'error', ...traceOf(error) });
    process.exit(1);
  };
  // Also a promise that nobody waits for, of a watch that lost Redis say.
  process.on('uncaughtException', fail);
  let isAbandoned = false;
  process.once('disconnect', () => {
    isAbandoned = true;
  });
  const stop = await start().catch(fail);
  let isStopping = false;
  const end = (): void => {
    if (isStopping) return;
    isStopping = true;
    void stop().then(letGo, fail);
  };
  process.on('SIGTERM', end);
  process.on('disconnect', end);
  // In a terminal Ctrl-C may reach every process of the service; the supervisor then says in which order they end.
  process.on('SIGINT', () => (process.connected ? undefined : end()));
  if (isAbandoned) end();
  else sendReady();
}

// The channel to the supervisor is what keeps a process alive that has nothing left to do.
function letGo(): void {
  if (process.connected) process.disconnect();
}

/** Where it came from, for what nobody foresaw: a failure of ours says all in its sentence. */
function traceOf(error: unknown): object {
  return error instanceof QuaysideError || !(error instanceof Error) ? {} : { trace: error.stack };
}
