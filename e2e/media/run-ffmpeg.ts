import { execFile } from 'node:child_process';
import { mkdir, rm } from 'node:fs/promises';
import { dirname } from 'node:path';
import { promisify } from 'node:util';
import { QuaysideError } from '@quayside/shoot';

const run = promisify(execFile);

/**
 * Makes one file with ffmpeg, its folder too; the same arguments, in groups that belong together, give the same bytes. Leaves nothing when it fails.
 * @throws QuaysideError `MEDIA_NOT_MADE`
 */
export async function runFfmpeg(file: string, groups: readonly (readonly string[])[]): Promise<void> {
  await mkdir(dirname(file), { recursive: true });
  try {
    await run('ffmpeg', ['-nostdin', '-v', 'error', '-y', ...groups.flat(), '-bitexact', file]);
  } catch (cause) {
    await rm(file, { force: true });
    throw new QuaysideError(
      { code: 'MEDIA_NOT_MADE', sentence: `${file} could not be made: ${reasonOf(cause)}`, retry: 'never' },
      { cause },
    );
  }
}

function reasonOf(cause: unknown): string {
  if (!(cause instanceof Error)) return String(cause);
  if ('code' in cause && cause.code === 'ENOENT') return 'ffmpeg is not installed. `npm run setup` installs it.';
  const told = 'stderr' in cause ? String(cause.stderr).trim() : '';
  return `ffmpeg says "${told === '' ? cause.message : told}". Correct the arguments, or free some space.`;
}
