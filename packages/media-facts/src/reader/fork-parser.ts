import { type ChildProcess, fork } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const RUNS_FROM_SOURCES = import.meta.url.endsWith('.ts');
const ENTRY = fileURLToPath(
  new URL(RUNS_FROM_SOURCES ? '../parser/parser-process.ts' : '../parser/parser-process.js', import.meta.url),
);
const LIMITS = [
  // A file that makes its parser ask for more is not worth having.
  '--max-old-space-size=128',
  '--max-semi-space-size=2',
  // Pages of 64 KiB: 256 MiB for the library.
  '--wasm-max-mem-pages=4096',
  // A parser lives for some hundred files at most, too short for the optimizing compiler to pay: without it a first file
  // takes half the CPU, and 35 MB less.
  '--liftoff-only',
  // The seat belt: it can open files for reading, and nothing else. No writing, no processes, no threads, no addons.
  '--permission',
  '--allow-fs-read=*',
];
const LAST_WORDS_LENGTH = 2000;

/** A parser's process, and what it said last on its error stream. */
export interface ParserProcess {
  readonly process: ChildProcess;
  readonly lastWords: () => string;
}

/** Starts the process of a parser, with limits on memory and rights. It gets none of our flags or environment. */
export function forkParser(): ParserProcess {
  const child = fork(ENTRY, [], {
    execArgv: RUNS_FROM_SOURCES ? [...LIMITS, '--conditions=source'] : LIMITS,
    env: {},
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
