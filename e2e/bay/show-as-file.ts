import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync } from 'node:fs';
import { mkdir, rmdir } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { QuaysideError } from '@quayside/shoot';
import { runTool, TOOL_FOLDERS } from '../drives/run-tool.ts';

/** A network block device as one file, which a loop device can stand on. */
export interface ShownFile {
  readonly path: string;
  /** Waits until nothing holds the file any more, takes it away, and ends its process. */
  hide(): Promise<void>;
}

const PATIENCE_MS = 20_000;

/**
 * Shows what is served on a socket as one file in a folder, through nbdfuse. It ends with us, also when we are killed.
 * @throws QuaysideError `BAY_TOOL_FAILED`; nothing is left then.
 */
export async function showAsFile(
  socket: string,
  folder: string,
  { readOnly }: { readonly readOnly: boolean },
): Promise<ShownFile> {
  await mkdir(folder, { recursive: true });
  const path = join(folder, 'drive');
  const words = ['nbdfuse', ...(readOnly ? ['--readonly'] : []), path, '--unix', socket];
  const shower = spawn('setpriv', ['--pdeathsig', 'KILL', ...words], {
    detached: true,
    stdio: 'ignore',
    env: { PATH: TOOL_FOLDERS, LC_ALL: 'C.UTF-8' },
  });
  const gone = once(shower, 'exit').catch(() => undefined);
  const hide = async (): Promise<void> => {
    const deadline = performance.now() + PATIENCE_MS;
    while (!(await isUnmounted(folder)) && performance.now() < deadline) await wait(50);
    if (performance.now() >= deadline) await runTool('umount', '--lazy', folder).catch(() => undefined);
    if (shower.exitCode === null && shower.signalCode === null) shower.kill('SIGKILL');
    await gone;
    await rmdir(folder).catch(() => undefined);
  };

  const deadline = performance.now() + PATIENCE_MS;
  while (!existsSync(path)) {
    await wait(5);
    if (shower.exitCode === null && performance.now() < deadline) continue;
    await hide();
    throw new QuaysideError({
      code: 'BAY_TOOL_FAILED',
      sentence: `nbdfuse does not show ${socket}: it ended with ${shower.exitCode ?? 'no answer'}.`,
      retry: 'never',
    });
  }
  return { path, hide };
}

async function isUnmounted(folder: string): Promise<boolean> {
  return runTool('umount', folder).then(
    () => true,
    (error: unknown) => String(error).includes('not mounted'),
  );
}
