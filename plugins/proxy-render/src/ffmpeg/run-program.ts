import { spawn, spawnSync } from 'node:child_process';
import { constants, setPriority } from 'node:os';
import { createInterface } from 'node:readline';
import { StepFailure } from '@quayside/step-sdk';

export interface ProgramControls {
  /** Ends the program at once; what is thrown then is the signal's own reason. */
  readonly signal: AbortSignal;
  /** Told each line of its standard output. */
  readonly onLine: (line: string) => void;
}

/** Of what it complains about more is not kept. */
const MOST_SAID = 100_000;

/**
 * Runs a program once, behind everything else on this machine, with no shell between. Its process is gone when this settles.
 * @throws StepFailure `FFMPEG_MISSING`
 */
export async function runProgram(
  program: string,
  args: readonly string[],
  { signal, onLine }: ProgramControls,
): Promise<{ readonly code: number; readonly said: string }> {
  signal.throwIfAborted();
  const [command, ...before] = [...diesWithUs(), program];
  const child = spawn(command, [...before, ...args], {
    stdio: ['ignore', 'pipe', 'pipe'],
    signal,
    killSignal: 'SIGKILL',
  });
  giveWay(child.pid);
  let said = '';
  child.stderr.setEncoding('utf8').on('data', (text: string) => {
    said = (said + text).slice(-MOST_SAID);
  });
  createInterface({ input: child.stdout }).on('line', onLine);
  const failures: Error[] = [];
  child.on('error', (error) => void failures.push(error));
  const code = await new Promise<number | null>((resolve) => child.on('close', resolve));
  signal.throwIfAborted();
  const [failed] = failures;
  if (failed !== undefined) throw missing(program, failed.message);
  // As env(1) says of what could not be run.
  if (code === 127 && before.length > 0) throw missing(program, said.trim());
  return { code: code ?? -1, said };
}

/** Ingest goes first. A system that does not allow it lets the program run as any other. */
function giveWay(pid: number | undefined): void {
  try {
    if (pid !== undefined) setPriority(pid, constants.priority.PRIORITY_LOW);
  } catch {
    // It may have ended already.
  }
}

/** Held up for a drive, it would stand still for ever if this process were killed; the kernel sees to it where it can. */
function diesWithUs(): readonly string[] {
  // Looked for at the first run: to be described, the plugin is loaded without the right to start programs.
  found ??=
    process.platform === 'linux' && spawnSync('setpriv', ['--version']).error === undefined
      ? ['setpriv', '--pdeathsig', 'KILL', '--']
      : [];
  return found;
}

let found: readonly string[] | null = null;

function missing(program: string, why: string): StepFailure {
  const sentence = `No proxy could be made: "${program}" cannot be run (${why}). Install ffmpeg, or name it in the step's configuration.`;
  return new StepFailure({ code: 'FFMPEG_MISSING', sentence, retry: 'never' });
}
