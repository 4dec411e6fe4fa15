import { type ChildProcess, spawn } from 'node:child_process';
import { writeFile } from 'node:fs';
import { setPriority } from 'node:os';
import type { Duplex } from 'node:stream';
import { fileURLToPath } from 'node:url';
import { messageIn, type MessageFromGuest } from '../channel/message-from-guest.ts';
import type { MessageToGuest } from '../channel/message-to-guest.ts';
import { readLines } from '../channel/read-lines.ts';
import { cleanEnvironment } from './clean-environment.ts';
import { ownCode } from './own-code.ts';
import { type GuestRights, nodeArguments } from './guest-rights.ts';
import { drainOutput } from './output-lines.ts';
import { fencesBefore } from './system-fences.ts';

/** What is heard of a guest's process. */
export interface GuestListener {
  message(message: MessageFromGuest): void;
  /** It printed a line. */
  printed(line: string): void;
  /** It sent or printed something that no honest process does. */
  breach(what: string): void;
  /** Its process is over, and everything that it said before has been told. */
  ended(how: { readonly code: number | null; readonly signal: string | null }): void;
}

/** A process of a guest. */
export interface Guest {
  readonly pid: number;
  readonly workFolder: string;
  isAlive(): boolean;
  send(message: MessageToGuest): void;
  /** Who is told what it says from now on; nobody by `null`: then whatever it says is of no account. */
  listen(listener: GuestListener | null): void;
  /** Has it and all that it started in its process group stand still, or go on. */
  holdUp(isHeldUp: boolean): void;
  /** Ends it and all that it started in its process group, at once; settles when it is over. */
  kill(): Promise<void>;
}

const RUNS_FROM_SOURCES = import.meta.url.endsWith('.ts');
const ENTRY = fileURLToPath(
  new URL(`../guest-process/guest-process.${RUNS_FROM_SOURCES ? 'ts' : 'js'}`, import.meta.url),
);
const LOWEST_BUT_FOUR = 15;
const LONGEST_MESSAGE_BYTES = 2 * 1024 ** 2;
/** Between two calls of `listen`, so of one run. */
const MOST_SAID_BYTES = 16 * 1024 ** 2;
const MOST_PRINTED_BYTES = 64 * 1024 ** 2;

/** Starts a guest's process. `workFolder` must be there; it is the one folder that the process can write. */
export function startGuest(rights: GuestRights, workFolder: string): Guest {
  const args = nodeArguments(rights, { workFolder, ownCode: ownCode() });
  const [program, ...before] = [...fencesBefore(rights), process.execPath];
  const child = spawn(
    program ?? process.execPath,
    [
      ...before,
      ...args,
      ...(RUNS_FROM_SOURCES ? ['--conditions=source'] : []),
      ENTRY,
      rights.source.entry,
      ...rights.grants,
    ],
    {
      cwd: workFolder,
      env: cleanEnvironment(workFolder),
      // A group of its own, so that whatever it starts ends with it.
      detached: true,
      stdio: ['ignore', 'pipe', 'pipe', 'pipe'],
    },
  );
  yieldToOthers(child.pid);
  return listenTo(child, workFolder);
}

function listenTo(child: ChildProcess, workFolder: string): Guest {
  const channel = child.stdio[3] as Duplex;
  const { promise: over, resolve: end } = Promise.withResolvers<void>();
  let listener: GuestListener | null = null;
  let isAlive = child.pid !== undefined;
  let said = 0;
  let printed = 0;
  const count = (bytes: number, isPrinted: boolean): void => {
    if (isPrinted) printed += bytes;
    else said += bytes;
    if (printed > MOST_PRINTED_BYTES) listener?.breach(`printed more than ${MOST_PRINTED_BYTES / 1024 ** 2} MiB`);
    if (said > MOST_SAID_BYTES) listener?.breach(`sent more than ${MOST_SAID_BYTES / 1024 ** 2} MiB of messages`);
  };
  readLines(channel, LONGEST_MESSAGE_BYTES, {
    onLine: (line) => {
      count(line.length, false);
      const message = messageIn(line);
      if (message === null) listener?.breach('sent a message that no step sends');
      else listener?.message(message);
    },
    onTooLong: () => listener?.breach(`sent a message of more than ${LONGEST_MESSAGE_BYTES / 1024 ** 2} MiB`),
  });
  for (const stream of [child.stdout, child.stderr]) {
    if (stream === null) continue;
    drainOutput(stream, { onLine: (line) => listener?.printed(line), onBytes: (bytes) => count(bytes, true) });
  }
  // It may have gone while something was on its way to it; that shows as its exit.
  channel.on('error', () => undefined);
  const onEnd = (code: number | null, signal: string | null): void => {
    signalGroup(child.pid, 'SIGKILL');
    isAlive = false;
    listener?.ended({ code, signal });
    end();
  };
  child.once('exit', () => {
    isAlive = false;
    // Grandchildren may hold its streams open: they go with it, so that `close` comes.
    signalGroup(child.pid, 'SIGKILL');
  });
  child.once('close', onEnd);
  child.once('error', () => onEnd(null, null));
  return {
    pid: child.pid ?? 0,
    workFolder,
    isAlive: () => isAlive,
    send: (message) => void channel.write(`${JSON.stringify(message)}\n`),
    listen(next) {
      listener = next;
      said = 0;
      printed = 0;
    },
    holdUp: (isHeldUp) => void (isAlive && signalGroup(child.pid, isHeldUp ? 'SIGSTOP' : 'SIGCONT')),
    async kill() {
      if (child.pid === undefined) return;
      signalGroup(child.pid, 'SIGKILL');
      await over;
    },
  };
}

function signalGroup(pid: number | undefined, signal: 'SIGKILL' | 'SIGSTOP' | 'SIGCONT'): void {
  if (pid === undefined) return;
  try {
    process.kill(-pid, signal);
  } catch {
    // All of it is over.
  }
}

function yieldToOthers(pid: number | undefined): void {
  if (pid === undefined) return;
  try {
    // At once, while it has one thread: threads take it from the one that starts them (setpriority(2)).
    setPriority(pid, LOWEST_BUT_FOUR);
  } catch {
    // It is over already.
  }
  // When memory runs out, a guest is ended first (proc(5), oom_score_adj).
  if (process.platform === 'linux') writeFile(`/proc/${pid}/oom_score_adj`, '800', () => undefined);
}
