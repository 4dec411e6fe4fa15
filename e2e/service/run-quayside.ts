import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';

const run = promisify(execFile);
const CLI = fileURLToPath(new URL('../../apps/cli/bin/quayside.mjs', import.meta.url));

export interface CommandOutcome {
  readonly code: number;
  /** What it printed: to standard output, then to standard error. */
  readonly text: string;
}

/** Runs the real command as an operator types it, and gives its outcome whatever its exit code. */
export async function runQuayside(...words: readonly string[]): Promise<CommandOutcome> {
  return run(process.execPath, [CLI, ...words]).then(
    ({ stdout, stderr }) => ({ code: 0, text: stdout + stderr }),
    (error: { readonly code?: unknown; readonly stdout?: string; readonly stderr?: string }) => {
      // Anything but an exit code means that it did not run at all.
      if (typeof error.code !== 'number') throw error;
      return { code: error.code, text: `${error.stdout}${error.stderr}` };
    },
  );
}
