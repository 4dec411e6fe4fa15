import { spawn } from 'node:child_process';
import { createInterface } from 'node:readline';
import { StepFailure } from '@quayside/step-sdk';

export interface FfmpegControls {
  /** Ends ffmpeg at once; what is thrown then is the signal's own reason. */
  readonly signal: AbortSignal;
  /** Told now and then how far into the file it is. */
  readonly onSecond: (seconds: number) => void;
}

/** Of what ffmpeg says more is not kept: a damaged file can make it complain about every packet. */
const MOST_SAID = 4_000_000;

/**
 * Runs ffmpeg once, with no shell between, and returns how it ended and what it said. Its process is gone when this settles.
 * @throws StepFailure `FFMPEG_MISSING`
 */
export async function runFfmpeg(
  ffmpeg: string,
  args: readonly string[],
  { signal, onSecond }: FfmpegControls,
): Promise<{ readonly code: number; readonly said: string }> {
  signal.throwIfAborted();
  const all = ['-hide_banner', '-nostdin', '-nostats', '-progress', 'pipe:1', ...args];
  const program = spawn(ffmpeg, all, { stdio: ['ignore', 'pipe', 'pipe'], signal, killSignal: 'SIGKILL' });
  let said = '';
  program.stderr.setEncoding('utf8').on('data', (text: string) => {
    // What was asked for comes last.
    said = (said + text).slice(-MOST_SAID);
  });
  createInterface({ input: program.stdout }).on('line', (line) => {
    const microseconds = /^out_time_us=(\d+)$/.exec(line)?.[1];
    if (microseconds !== undefined) onSecond(Number(microseconds) / 1_000_000);
  });
  const { code, cause } = await endOf(program);
  signal.throwIfAborted();
  if (code !== null) return { code, said };
  if (cause !== null && 'code' in cause && cause.code === 'ENOENT') throw missing(ffmpeg, cause);
  throw cause ?? new Error('ffmpeg was killed, and not by this step.');
}

interface End {
  readonly code: number | null;
  readonly cause: Error | null;
}

async function endOf(program: ReturnType<typeof spawn>): Promise<End> {
  let cause: Error | null = null;
  program.on('error', (error) => {
    cause = error;
  });
  // After `close` its output has been read to the end; it comes after `error` too.
  return new Promise((resolve) =>
    program.on('close', (code) => resolve({ code: cause === null ? code : null, cause })),
  );
}

function missing(ffmpeg: string, cause: Error): StepFailure {
  const sentence = `The sound could not be measured: there is no program "${ffmpeg}". Install ffmpeg, or name it in the step's configuration.`;
  return new StepFailure({ code: 'FFMPEG_MISSING', sentence, retry: 'never' }, { cause });
}
