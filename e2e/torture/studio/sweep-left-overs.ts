import { execFile } from 'node:child_process';
import { readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';

const run = promisify(execFile);

export const STUDIO_PREFIX = 'quayside-torture-';

/**
 * Takes away what studios left behind whose process was killed: the service and its Redis, mounts, loop devices, folders.
 * Their nbdkit and nbdfuse have ended with that process. Studios of a living process are left alone.
 */
export async function sweepLeftOvers(): Promise<number> {
  const names = (await readdir(tmpdir())).filter((name) => name.startsWith(STUDIO_PREFIX));
  let swept = 0;
  for (const folder of names.map((name) => join(tmpdir(), name))) {
    if (await isOwned(folder)) continue;
    await endProcessesOf(folder);
    await unmountBelow(folder);
    await detachBelow(folder);
    await unmountBelow(folder);
    await rm(folder, { recursive: true, force: true });
    swept += 1;
  }
  return swept;
}

async function isOwned(folder: string): Promise<boolean> {
  const pid = Number(await readFile(join(folder, 'owner'), 'utf8').catch(() => '0'));
  try {
    // A studio that is just being made has not said yet whose it is.
    return pid === 0 || process.kill(pid, 0);
  } catch {
    return false;
  }
}

/** The service leads groups of its own and outlives whoever started it. Its parts name files of the studio's folder, whose name is used once. */
async function endProcessesOf(folder: string): Promise<void> {
  const { stdout } = await run('ps', ['-eww', '-o', 'pid=,args='], { maxBuffer: 2 ** 26 });
  for (const line of stdout.split('\n')) {
    const [, pid, command = ''] = /^\s*(\d+)\s+(.*)$/.exec(line) ?? [];
    if (pid === undefined || !command.includes(`${folder}/`) || Number(pid) === process.pid) continue;
    try {
      process.kill(Number(pid), 'SIGKILL');
    } catch {
      // It has ended meanwhile.
    }
  }
}

async function unmountBelow(folder: string): Promise<void> {
  const table = await readFile('/proc/self/mountinfo', 'utf8');
  const paths = table.split('\n').flatMap((line) => line.split(' ')[4] ?? []);
  for (const path of paths.toReversed()) {
    if (path.startsWith(`${folder}/`))
      await run('umount', ['--lazy', path.replaceAll('\\040', ' ')]).catch(() => undefined);
  }
}

async function detachBelow(folder: string): Promise<void> {
  const { stdout } = await run('losetup', ['--list', '--noheadings', '--output', 'NAME,BACK-FILE']);
  for (const line of stdout.split('\n')) {
    const [name, file] = line.trim().split(/\s+/);
    if (name !== undefined && file?.startsWith(`${folder}/`) === true)
      await run('losetup', ['--detach', name]).catch(() => undefined);
  }
}
