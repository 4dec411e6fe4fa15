import { type ChildProcess, spawn } from 'node:child_process';
import type { CommandSettings } from '@quayside/messages';
import { QuaysideError } from '@quayside/shoot';
import type { ChannelContext } from '@quayside/channel-contract';

/**
 * Runs a program with what it is to read, without a shell, and kills it with all that it started when its time is over or
 * the service stops.
 * @throws QuaysideError `COMMAND_FAILED`, with the last line that it wrote to standard error
 */
export async function runProgram(
  { command: [program = '', ...args], timeoutSeconds }: CommandSettings,
  { input, context }: { readonly input: string; readonly context: ChannelContext },
): Promise<void> {
  const child = spawn(program, args, {
    cwd: '/',
    env: { ...context.environment },
    stdio: ['pipe', 'ignore', 'pipe'],
    // A group of its own, so that what it starts can be ended with it.
    detached: true,
  });
  let said = '';
  child.stderr.setEncoding('utf8').on('data', (text: string) => {
    said = (said + text).slice(-LONGEST_WORDS);
  });
  // A program that does not read is its own affair.
  child.stdin.on('error', () => undefined);
  child.stdin.end(input);
  context.onStop(() => killGroup(child));
  let isLate = false;
  const limit = setTimeout(() => {
    isLate = true;
    killGroup(child);
  }, timeoutSeconds * 1000);
  try {
    const how = await endOf(child);
    if (isLate) throw failed(program, `it did not end within ${timeoutSeconds} s and was killed`);
    if (how !== 0) throw failed(program, `it ended with ${how}${lastLine(said)}`);
  } finally {
    clearTimeout(limit);
  }
}

const LONGEST_WORDS = 2000;

/** The exit code, or the signal or error that it ended with. */
function endOf(child: ChildProcess): Promise<number | string> {
  return new Promise((resolve) => {
    child.once('error', (error) => resolve(error.message));
    // Not `close`: that waits for grandchildren, which may live on.
    child.once('exit', (code, signal) => resolve(code ?? signal ?? 'nothing'));
  });
}

function killGroup({ pid }: ChildProcess): void {
  try {
    if (pid !== undefined) process.kill(-pid, 'SIGKILL');
  } catch {
    // It has ended by itself.
  }
}

function lastLine(said: string): string {
  const line = said.trim().split('\n').at(-1) ?? '';
  return line === '' ? '' : `: ${line.slice(-200)}`;
}

function failed(program: string, how: string): QuaysideError {
  const sentence = `The command ${program} did not take the message: ${how}. Run it by hand to see what is amiss.`;
  return new QuaysideError({ code: 'COMMAND_FAILED', sentence, retry: 'later' });
}
