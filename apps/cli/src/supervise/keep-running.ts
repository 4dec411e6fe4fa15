import { type ChildProcess, fork } from 'node:child_process';
import { saysReady, sendRedis } from '@quayside/service-process';

/** A process of the service to keep running. */
export interface Charge {
  readonly name: string;
  /** The file that it runs. */
  readonly module: string;
  readonly args: readonly string[];
  readonly execArgv: readonly string[];
  readonly env: NodeJS.ProcessEnv;
  /** Where Redis answers, as soon as it does: told to the process at each start. */
  readonly redis: Promise<string>;
  /** How long it may take to end after SIGTERM. */
  readonly graceMs: number;
}

export interface KeptProcess {
  readonly name: string;
  /** Settles when it says `{ ready: true }` for the first time. */
  readonly ready: Promise<void>;
  /** The process that runs now, or null between two starts. */
  pid(): number | null;
  /** Ends it for good: SIGTERM, and SIGKILL when the grace is over. */
  stop(): Promise<void>;
  /** Ends it for good, at once. */
  kill(): void;
}

export interface Reports {
  /** Told each crash, in one sentence. */
  readonly say: (sentence: string) => void;
  /** Given each line that the process prints; without it, the line goes to our own standard output. */
  readonly line?: (line: string) => void;
}

const PAUSES = { firstMs: 200, longestMs: 10_000, calmMs: 30_000 };

/**
 * Starts a process and, whenever it ends by itself, starts it again after a pause that grows from 0.2 to 10 seconds and
 * is short again once the process has run for half a minute. Never gives up.
 */
export function keepRunning(charge: Charge, { say, line }: Reports, pauses = PAUSES): KeptProcess {
  let child: ChildProcess | null = null;
  let timer: NodeJS.Timeout | undefined;
  let pauseMs = pauses.firstMs;
  let isOver = false;
  let hasEnded: Promise<void> = Promise.resolve();
  const { promise: ready, resolve: becomeReady } = Promise.withResolvers<void>();

  const start = (): void => {
    const startedAt = performance.now();
    const { promise, resolve } = Promise.withResolvers<void>();
    hasEnded = promise;
    const started = fork(charge.module, [...charge.args], {
      execArgv: [...charge.execArgv],
      env: charge.env,
      // A group of its own: Ctrl-C in a terminal must reach the supervisor alone, which ends all in order.
      detached: true,
      stdio: ['ignore', line === undefined ? 'inherit' : 'pipe', 'inherit', 'ipc'],
    });
    child = started;
    if (line !== undefined) readLines(started, line);
    started.on('message', (message) => {
      if (saysReady(message)) becomeReady();
    });
    // Without Redis there is no service, and whoever waits for it says so.
    charge.redis.then((address) => sendRedis(started, address)).catch(() => undefined);
    let isTold = false;
    const onEnd = (how: string): void => {
      if (isTold) return;
      isTold = true;
      child = null;
      resolve();
      if (isOver) return;
      if (performance.now() - startedAt > pauses.calmMs) pauseMs = pauses.firstMs;
      say(`The ${charge.name} ended unexpectedly (${how}); it is started again in ${pauseMs / 1000} s.`);
      timer = setTimeout(start, pauseMs);
      pauseMs = Math.min(pauseMs * 2, pauses.longestMs);
    };
    started.once('error', (error) => onEnd(error.message));
    started.once('exit', (code, signal) => onEnd(signal ?? `exit code ${code}`));
  };
  start();

  return {
    name: charge.name,
    ready,
    pid: () => child?.pid ?? null,
    async stop() {
      isOver = true;
      clearTimeout(timer);
      const last = child;
      last?.kill('SIGTERM');
      const overdue = setTimeout(() => {
        say(
          `The ${charge.name} did not end within ${charge.graceMs / 1000} s, so it was killed; its work goes on at the next start.`,
        );
        last?.kill('SIGKILL');
      }, charge.graceMs);
      await hasEnded;
      clearTimeout(overdue);
    },
    kill() {
      isOver = true;
      clearTimeout(timer);
      child?.kill('SIGKILL');
    },
  };
}

function readLines(child: ChildProcess, line: (line: string) => void): void {
  let rest = '';
  child.stdout?.setEncoding('utf8').on('data', (text: string) => {
    const lines = (rest + text).split('\n');
    rest = lines.pop() ?? '';
    for (const one of lines) line(one);
  });
}
