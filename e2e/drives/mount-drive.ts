import { spawnSync } from 'node:child_process';
import { mkdir, readFile } from 'node:fs/promises';
import { setTimeout as pause } from 'node:timers/promises';
import type { Drive } from './make-drive.ts';
import { runTool, TOOL_FOLDERS } from './run-tool.ts';

/** A drive in its slot. Disposing of it unmounts it, busy or not, and lets its loop device go. */
export interface MountedDrive extends AsyncDisposable {
  readonly drive: Pick<Drive, 'image' | 'fileSystem'>;
  readonly path: string;
  /** The loop device. It is gone once the drive is unmounted. */
  readonly device: string;
}

export interface Mounting {
  readonly readOnly?: boolean;
  /** Whether the loop device passes the page cache by on its way to the image. */
  readonly directIo?: boolean;
}

/**
 * Mounts a drive at a folder, which is made when it is not there. Needs root.
 * @throws QuaysideError `DRIVE_TOOL_FAILED`; no loop device is left then.
 */
export async function mountDrive(
  drive: Pick<Drive, 'image' | 'fileSystem'>,
  path: string,
  { readOnly = false, directIo = false }: Mounting = {},
): Promise<MountedDrive> {
  await mkdir(path, { recursive: true });
  const words = [...(readOnly ? ['--read-only'] : []), ...(directIo ? ['--direct-io=on'] : [])];
  const device = await runTool('losetup', '--find', '--show', ...words, drive.image);
  try {
    await mount(drive.fileSystem, { device, path, options: `nosuid,nodev,${readOnly ? 'ro' : 'rw'}` });
  } finally {
    // Detaching a device in use only marks it: the kernel lets it go with the last unmount, whoever makes that. When the
    // mount failed, it goes now.
    await runTool('losetup', '--detach', device);
  }
  unmountAtExit(path);
  const mounted = { drive, path, device };
  return { ...mounted, [Symbol.asyncDispose]: () => unmountDrive(mounted) };
}

/** Unmounts a drive and waits until its device is free. Waits a while for open files, then unmounts over them. Doing it twice is fine. */
export async function unmountDrive({ path, device }: Pick<MountedDrive, 'path' | 'device'>): Promise<void> {
  for (let tries = 0; (await isMounted(path, device)) && tries < PATIENCE; tries++) {
    await runTool('umount', path).catch(() => pause(STEP_MS));
  }
  if (await isMounted(path, device)) await runTool('umount', '--lazy', path);
  live.delete(path);
  // exFAT may be served by a process of its own, which closes the device a moment after the unmount.
  for (let tries = 0; (await isAttached(device)) && tries < PATIENCE; tries++) await pause(STEP_MS);
}

interface Slot {
  readonly device: string;
  readonly path: string;
  readonly options: string;
}

async function mount(fileSystem: Drive['fileSystem'], { device, path, options }: Slot): Promise<void> {
  if (fileSystem === 'ext4' || (await kernelHasExfat()))
    await runTool('mount', '-t', fileSystem, '-o', options, device, path);
  else await runTool('mount.exfat-fuse', '-o', options, device, path);
}

/** Whether the kernel itself mounts exFAT, loading its module when it has one. */
async function kernelHasExfat(): Promise<boolean> {
  await runTool('modprobe', '-q', 'exfat').catch(() => null);
  return /\bexfat$/m.test(await readFile('/proc/filesystems', 'utf8'));
}

async function isMounted(path: string, device: string): Promise<boolean> {
  const table = await readFile('/proc/self/mountinfo', 'utf8');
  return table.split('\n').some((line) => line.includes(` ${device} `) && line.split(' ')[4] === escaped(path));
}

/** The mount table writes blanks and the like as octal numbers (proc_pid_mountinfo(5)). */
function escaped(path: string): string {
  return path.replaceAll(/[ \t\n\\]/g, (char) => `\\${char.charCodeAt(0).toString(8).padStart(3, '0')}`);
}

async function isAttached(device: string): Promise<boolean> {
  const devices = await runTool('losetup', '--list', '--noheadings', '--output', 'NAME');
  return devices.split('\n').some((name) => name.trim() === device);
}

const PATIENCE = 30;
const STEP_MS = 100;

const live = new Set<string>();

/** The last resort when a test run ends without disposing: a mount would outlive it. */
function unmountAtExit(path: string): void {
  if (!isWatchingExit) {
    process.once('exit', () => {
      for (const left of live) spawnSync('umount', ['--lazy', left], { env: { PATH: TOOL_FOLDERS } });
    });
  }
  isWatchingExit = true;
  live.add(path);
}

let isWatchingExit = false;
