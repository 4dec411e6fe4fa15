import { execFile } from 'node:child_process';
import { promisify } from 'node:util';
import { QuaysideError } from '@quayside/shoot';

const run = promisify(execFile);

/**
 * Runs one of the system's tools for drives and gives what it printed.
 * @throws QuaysideError `DRIVE_TOOL_FAILED` with the tool's own words
 */
export async function runTool(tool: string, ...args: readonly string[]): Promise<string> {
  try {
    const { stdout } = await run(tool, args, { env: { PATH: TOOL_FOLDERS, LC_ALL: 'C.UTF-8' } });
    return stdout.trim();
  } catch (cause) {
    const sentence = `${[tool, ...args].join(' ')} failed: ${reasonOf(cause)}`;
    throw new QuaysideError({ code: 'DRIVE_TOOL_FAILED', sentence, retry: 'never' }, { cause });
  }
}

function reasonOf(cause: unknown): string {
  if (!(cause instanceof Error)) return String(cause);
  if ('code' in cause && cause.code === 'ENOENT') return 'it is not installed.';
  const told = 'stderr' in cause ? String(cause.stderr).trim() : '';
  return told === '' ? cause.message : told;
}

/** Systems keep these tools where only root has them on its PATH. */
export const TOOL_FOLDERS = '/usr/local/sbin:/usr/local/bin:/usr/sbin:/usr/bin:/sbin:/bin';
