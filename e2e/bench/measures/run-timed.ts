import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { releaseAtInterrupt } from '../release-at-interrupt.ts';

const WORDS_LENGTH = 2000;

/** Runs a shell line in a folder and gives the seconds it took. @throws Error with its last words when it fails. */
export async function runTimed(line: string, folder: string): Promise<number> {
  const startedAt = performance.now();
  const child = spawn('sh', ['-c', line], { cwd: folder, stdio: ['ignore', 'ignore', 'pipe'], detached: true });
  // The shell and what it runs: they lead a group of their own.
  const callOff = releaseAtInterrupt(() => child.pid !== undefined && process.kill(-child.pid));
  let words = '';
  child.stderr.setEncoding('utf8').on('data', (text: string) => {
    words = (words + text).slice(-WORDS_LENGTH);
  });
  const [code] = await once(child, 'close');
  callOff();
  if (code !== 0) throw new Error(`"${line}" failed: ${words.trim()}`);
  return (performance.now() - startedAt) / 1000;
}
