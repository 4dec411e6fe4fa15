import { execFile } from 'node:child_process';

/** What came of asking a system tool. `missing` and `hung` are answers too: nothing here may fail for want of a tool. */
export type ToolAnswer =
  | { readonly outcome: 'ran'; readonly exitCode: number; readonly output: string }
  | { readonly outcome: 'missing' }
  | { readonly outcome: 'hung' };

const PATIENCE_MS = 3000;

/**
 * Runs a system tool and tells what it wrote. Never throws, and answers within 3 s: a tool that waits for a dying drive cannot
 * even be killed, so it is left behind.
 */
export async function askTool(name: string, args: readonly string[]): Promise<ToolAnswer> {
  // Service managers and ordinary users often have no sbin in their path.
  for (const command of [name, `/usr/sbin/${name}`, `/sbin/${name}`]) {
    const answer = await run(command, args);
    if (answer.outcome !== 'missing') return answer;
  }
  return { outcome: 'missing' };
}

function run(command: string, args: readonly string[]): Promise<ToolAnswer> {
  return new Promise((resolve) => {
    const child = execFile(command, args, { maxBuffer: 16 * 1024 * 1024 }, (error, output) => {
      clearTimeout(timer);
      if (!error) return resolve({ outcome: 'ran', exitCode: 0, output });
      if (error.code === 'ENOENT' || error.code === 'EACCES') return resolve({ outcome: 'missing' });
      return resolve({ outcome: 'ran', exitCode: typeof error.code === 'number' ? error.code : 1, output });
    });
    const timer = setTimeout(() => {
      child.kill('SIGKILL');
      child.unref();
      resolve({ outcome: 'hung' });
    }, PATIENCE_MS);
  });
}
