import { type ChildProcess, fork } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const RUNS_FROM_SOURCES = import.meta.url.endsWith('.ts');
const ENTRY = fileURLToPath(new URL(RUNS_FROM_SOURCES ? './mover-process.ts' : './mover-process.js', import.meta.url));
// Nothing of our own environment: a mover needs a place to find `dd` in, and threads enough that a slow disk does not
// keep the file calls of a quick one waiting.
const ENVIRONMENT = { PATH: '/usr/local/bin:/usr/bin:/bin', UV_THREADPOOL_SIZE: '16' };
// Without it each mover compiles the sources anew, which takes half a second and 35 MB. Beside the installed packages, not
// in the system's temporary folder, where others could put code of theirs.
const COMPILED = {
  NODE_COMPILE_CACHE: fileURLToPath(new URL('../../../../node_modules/.cache/quayside-movers', import.meta.url)),
};
// The short-lived garbage of many small files would otherwise grow the heap by 30 MB before it is first looked at.
const SMALL_HEAP = '--max-semi-space-size=2';
const LAST_WORDS_LENGTH = 2000;

/** A mover's process, and what it said last on its error stream. */
export interface MoverChild {
  readonly process: ChildProcess;
  readonly lastWords: () => string;
}

/** Starts the process of a mover. It gets none of our flags or environment. */
export function forkMover(): MoverChild {
  const child = fork(ENTRY, [], {
    execArgv: RUNS_FROM_SOURCES ? [SMALL_HEAP, '--conditions=source'] : [SMALL_HEAP],
    env: RUNS_FROM_SOURCES ? { ...ENVIRONMENT, ...COMPILED } : ENVIRONMENT,
    serialization: 'json',
    stdio: ['ignore', 'ignore', 'pipe', 'ipc'],
  });
  let words = '';
  child.stderr?.setEncoding('utf8').on('data', (text: string) => {
    words = (words + text).slice(-LAST_WORDS_LENGTH);
  });
  // What it cannot be told shows as its exit; without a listener this would end us.
  child.on('error', () => undefined);
  return { process: child, lastWords: () => words.trim() };
}
