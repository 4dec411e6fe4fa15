import { spawn } from 'node:child_process';
import { Socket } from 'node:net';
import { createInterface } from 'node:readline';

/** Syncs the file system that a folder lies on. */
export interface FileSystemSyncer {
  /**
   * Syncs all of it: many small files in one commit instead of one each. It fails where write-back has failed (Linux 5.8 and
   * later); what it could still miss, the read-back finds.
   */
  sync(): Promise<void>;
}

/** Answers each line with the status of one syncing. It ends with its input, so with us however we end. */
const SCRIPT = 'while read -r _; do sync --file-system "$1"; echo "$?"; done';

/**
 * Has GNU `sync` do it, since Node has no syncfs(2), through a shell that is kept at hand: to start a program from a process as
 * large as ours takes ten times as long as from that.
 */
export function createFileSystemSyncer(folder: string): FileSystemSyncer {
  let shell: Shell | null = null;
  return {
    sync: async () => {
      if (shell === null || !shell.isAlive()) shell = startShell(folder);
      const status = await shell.ask();
      if (status !== '0') throw Object.assign(new Error(`sync --file-system ended with ${status}`), { code: 'EIO' });
    },
  };
}

interface Shell {
  isAlive(): boolean;
  /** What it answers to the next line, in the order of asking; when it ends before that, why. */
  ask(): Promise<string>;
}

function startShell(folder: string): Shell {
  const child = spawn('sh', ['-c', SCRIPT, 'sh', folder], { stdio: ['pipe', 'pipe', 'ignore'] });
  const waiting: ((answer: string) => void)[] = [];
  let isAlive = true;
  const end = (why: string): void => {
    isAlive = false;
    for (const answer of waiting.splice(0)) answer(why);
  };
  child.on('error', (error) => end(error.message));
  child.on('exit', (code, signal) => end(`the end of its shell (${code ?? signal})`));
  // What could not be sent is met as the end of the shell.
  child.stdin.on('error', () => undefined);
  createInterface({ input: child.stdout }).on('line', (line) => waiting.shift()?.(line));
  // Idle, it must not keep us from ending; while it syncs, it must.
  const hold = (isHeld: boolean): void => {
    for (const part of [child, child.stdin, child.stdout]) {
      if (part === child || part instanceof Socket) part[isHeld ? 'ref' : 'unref']();
    }
  };
  return {
    isAlive: () => isAlive,
    ask: () =>
      new Promise((resolve) => {
        hold(true);
        waiting.push((answer) => {
          if (waiting.length === 0) hold(false);
          resolve(answer);
        });
        child.stdin.write('\n');
      }),
  };
}
