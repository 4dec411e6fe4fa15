import { spawn } from 'node:child_process';
import { StepFailure } from '@quayside/step-sdk';

/** Of what ffmpeg says more is not kept: a damaged file can make it complain about every packet. */
const MOST_SAID = 4_000_000;

/**
 * Runs ffmpeg once, with no shell between, and returns what it said, however it ended: of several frames some may have been
 * taken. Its process is gone when this settles; an abort kills it.
 * @throws StepFailure `FFMPEG_MISSING`
 */
export async function runFfmpeg(ffmpeg: string, args: readonly string[], signal: AbortSignal): Promise<string> {
  signal.throwIfAborted();
  const all = ['-hide_banner', '-nostdin', '-nostats', '-y', ...args];
  const program = spawn(ffmpeg, all, { stdio: ['ignore', 'ignore', 'pipe'], signal, killSignal: 'SIGKILL' });
  let said = '';
  let cause: Error | null = null;
  program.stderr.setEncoding('utf8').on('data', (text: string) => {
    // What it says of the frames comes before and between its complaints.
    said = (said + text).slice(0, MOST_SAID);
  });
  program.on('error', (error) => {
    cause = error;
  });
  // After `close` its output has been read to the end; it comes after `error` too.
  await new Promise((resolve) => program.on('close', resolve));
  signal.throwIfAborted();
  if (cause !== null) throw missing(ffmpeg, cause);
  return said;
}

function missing(ffmpeg: string, cause: Error): StepFailure {
  const sentence = `No frames could be taken: the program "${ffmpeg}" cannot be started. Install ffmpeg, or name it in the step's configuration.`;
  return new StepFailure({ code: 'FFMPEG_MISSING', sentence, retry: 'never' }, { cause });
}
