// The linter opens tests outside their tsconfig and would not know Node there.
/// <reference types="node" />
import { execFile, spawn } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdir, readdir, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { promisify } from 'node:util';
import { hasTool, temporaryFolder, whyNoMounts } from './media-files.test-support.ts';

const run = promisify(execFile);

/** Why drives cannot be made to fail here, or null. */
export const whyNoFaults =
  whyNoMounts ?? (hasTool('nbdkit') && hasTool('nbdfuse') ? null : 'there is no nbdkit or nbdfuse');

interface Drive {
  [Symbol.asyncDispose](): Promise<void>;
  readonly path: string;
}

/** An image behind nbdkit's error filter: while broken, every read fails with EIO. */
export async function driveWithBadCable(
  image: string,
): Promise<Drive & { break(): Promise<void>; mend(): Promise<void> }> {
  const folder = await temporaryFolder();
  const errorFile = join(folder.path, 'errors');
  const filter = [
    '--filter=error',
    'file',
    image,
    'error-pread=EIO',
    'error-pread-rate=100%',
    `error-file=${errorFile}`,
  ];
  const served = await serveAndMount(folder.path, filter, 'ro,noload');
  return {
    path: served.path,
    break: async () => {
      await writeFile(errorFile, '');
      await writeFile('/proc/sys/vm/drop_caches', '1');
    },
    mend: () => rm(errorFile, { force: true }),
    [Symbol.asyncDispose]: async () => {
      await rm(errorFile, { force: true });
      await served.end();
      await folder[Symbol.asyncDispose]();
    },
  };
}

/** An image of which one stretch cannot be read. */
export async function driveWithBadStretch(image: string, bad: { start: number; length: number }): Promise<Drive> {
  const folder = await temporaryFolder();
  const isBad = `[ $(( $4 + $3 )) -gt ${bad.start} ] && [ $4 -lt ${bad.start + bad.length} ]`;
  const read = `dd if=${image} iflag=skip_bytes,count_bytes,fullblock skip=$4 count=$3 bs=1M status=none`;
  const script = [
    `get_size=stat -c %s ${image}`,
    `pread=if ${isBad}; then echo EIO bad sector >&2; exit 1; fi; ${read}`,
  ];
  const served = await serveAndMount(folder.path, ['eval', ...script], 'ro,noload');
  return {
    path: served.path,
    [Symbol.asyncDispose]: async () => {
      await served.end();
      await folder[Symbol.asyncDispose]();
    },
  };
}

/** An image that gives one byte wrong at every second reading, and says nothing of it. */
export async function driveWithFickleByte(image: string, position: number): Promise<Drive> {
  const folder = await temporaryFolder();
  const [count, piece] = [join(folder.path, 'count'), join(folder.path, 'piece')];
  await writeFile(count, '0');
  const isMeant = `[ $(( $4 + $3 )) -gt ${position} ] && [ $4 -le ${position} ]`;
  const read = `dd if=${image} iflag=skip_bytes,count_bytes,fullblock skip=$4 count=$3 bs=1M status=none`;
  const wrong = `${read} of=${piece}; printf '\\252' | dd of=${piece} bs=1 seek=$(( ${position} - $4 )) conv=notrunc status=none; cat ${piece}`;
  const script = [
    `get_size=stat -c %s ${image}`,
    `pread=if ${isMeant}; then n=$(cat ${count}); echo $((n + 1)) > ${count}; if [ $((n % 2)) -eq 1 ]; then ${wrong}; exit; fi; fi; ${read}`,
  ];
  const served = await serveAndMount(folder.path, ['eval', ...script], 'ro,noload');
  return {
    path: served.path,
    [Symbol.asyncDispose]: async () => {
      await served.end();
      await folder[Symbol.asyncDispose]();
    },
  };
}

/** An image on a drive that can be made to answer nothing for a while, as a dying disk or a dead server does. */
export async function driveThatHangs(image: string): Promise<Drive & { hang(): void; goOn(): void }> {
  const folder = await temporaryFolder();
  const served = await serveAndMount(folder.path, ['file', image], 'rw');
  return {
    path: served.path,
    hang: () => void process.kill(served.server, 'SIGSTOP'),
    goOn: () => void process.kill(served.server, 'SIGCONT'),
    [Symbol.asyncDispose]: async () => {
      process.kill(served.server, 'SIGCONT');
      await served.end();
      await folder[Symbol.asyncDispose]();
    },
  };
}

export interface ForgetfulDrive extends Drive {
  /** Lets the next so many flushes of the drive's own cache fail. */
  failFlushes(count: number): Promise<void>;
  failuresLeft(): Promise<number>;
  mend(): Promise<void>;
}

/** A fresh drive that takes what is written and, when asked to make it durable, may answer with an error. */
export async function forgetfulDrive(sizeInMib: number): Promise<ForgetfulDrive> {
  const folder = await temporaryFolder();
  const image = join(folder.path, 'image');
  const failures = join(folder.path, 'failures');
  await mkdir(failures);
  await run('truncate', ['-s', `${sizeInMib}M`, image]);
  // Without a journal a failed flush is the answer to the one who asked; with one the file system would turn read-only.
  await run('mkfs.ext4', ['-q', '-m', '0', '-O', '^has_journal', image]);
  const oneLess = `f=$(ls ${failures} | head -n 1); if [ -n "$f" ]; then rm ${failures}/$f; echo EIO flush failed >&2; exit 1; fi`;
  const script = [
    `get_size=stat -c %s ${image}`,
    `pread=dd if=${image} iflag=skip_bytes,count_bytes,fullblock skip=$4 count=$3 bs=1M status=none`,
    `pwrite=dd of=${image} oflag=seek_bytes conv=notrunc seek=$4 bs=1M status=none`,
    `flush=${oneLess}`,
    'can_write=exit 0',
    'can_flush=exit 0',
  ];
  const served = await serveAndMount(folder.path, ['eval', ...script], 'rw');
  const mend = async (): Promise<void> => {
    for (const name of await readdir(failures)) await rm(join(failures, name), { force: true });
  };
  return {
    path: served.path,
    failFlushes: async (count) => {
      for (let index = 0; index < count; index += 1) await writeFile(join(failures, String(index)), '');
    },
    failuresLeft: async () => (await readdir(failures)).length,
    mend,
    [Symbol.asyncDispose]: async () => {
      await mend();
      await served.end();
      await folder[Symbol.asyncDispose]();
    },
  };
}

interface ServedDrive {
  readonly path: string;
  /** The process id of what serves it. */
  readonly server: number;
  end(): Promise<void>;
}

/** nbdkit -> nbdfuse -> a loop device without a cache -> mount. */
async function serveAndMount(folder: string, plugin: readonly string[], options: string): Promise<ServedDrive> {
  const socket = join(folder, 'socket');
  const exported = join(folder, 'export');
  const path = join(folder, 'mounted');
  const readOnly = options.startsWith('ro') ? ['--readonly'] : [];
  const readOnlyLoop = options.startsWith('ro') ? ['--read-only'] : [];
  await mkdir(path);
  await writeFile(exported, '');
  const server = spawn('nbdkit', ['--foreground', '--unix', socket, ...plugin], { stdio: 'ignore' });
  if (server.pid === undefined) throw new Error('nbdkit did not start');
  while (!existsSync(socket)) await sleep(20);
  const fuse = spawn('nbdfuse', [...readOnly, exported, '--unix', socket], { stdio: 'ignore' });
  while ((await run('stat', ['-c', '%s', exported])).stdout.trim() === '0') await sleep(20);
  const loop = (await run('losetup', [...readOnlyLoop, '--direct-io=on', '-f', '--show', exported])).stdout.trim();
  await run('mount', ['-o', options, loop, path]);
  return {
    path,
    server: server.pid,
    end: async () => {
      await run('umount', ['-l', path]).catch(() => undefined);
      await run('losetup', ['-d', loop]).catch(() => undefined);
      await run('umount', ['-l', exported]).catch(() => undefined);
      fuse.kill();
      server.kill();
    },
  };
}
