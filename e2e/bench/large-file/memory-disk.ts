import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { unmountDrive } from '../../drives/mount-drive.ts';
import { runTool } from '../../drives/run-tool.ts';
import { releaseAtInterrupt } from '../release-at-interrupt.ts';

/** A drive of compressed memory: zeros take next to nothing on it, whatever their number. Disposing of it removes it. */
export interface MemoryDisk extends AsyncDisposable {
  readonly path: string;
}

const CONTROL = '/sys/class/zram-control';

/** Makes an ext4 drive in compressed memory (zram) and mounts it. @throws QuaysideError or a system error where none can be had. */
export async function makeMemoryDisk(path: string, sizeInBytes: number): Promise<MemoryDisk> {
  await runTool('modprobe', '-q', 'zram').catch(() => undefined);
  // Reading this makes a new device and gives its number (Linux: Documentation/admin-guide/blockdev/zram.rst).
  const number = (await readFile(`${CONTROL}/hot_add`, 'utf8')).trim();
  let loop: string | null = null;
  const release = async (): Promise<void> => {
    if (loop !== null) await unmountDrive({ path, device: loop });
    await writeFile(`${CONTROL}/hot_remove`, number);
  };
  const callOff = releaseAtInterrupt(release);
  try {
    await writeFile(`/sys/block/zram${number}/disksize`, String(sizeInBytes));
    loop = await mountThroughLoop(`/dev/zram${number}`, path);
  } catch (error) {
    callOff();
    await release().catch(() => undefined);
    throw error;
  }
  return {
    path,
    [Symbol.asyncDispose]: async () => {
      callOff();
      await release();
    },
  };
}

/** Through a loop device, since footage on plain zram is no copy in Quayside's eyes; direct, or all would lie in memory twice. */
async function mountThroughLoop(device: string, path: string): Promise<string> {
  await runTool('mkfs.ext4', '-q', '-F', '-m', '0', '-E', 'lazy_itable_init=0,lazy_journal_init=0,nodiscard', device);
  const loop = await runTool('losetup', '--find', '--show', '--sector-size', '4096', '--direct-io=on', device);
  try {
    await mkdir(path, { recursive: true });
    await runTool('mount', '-t', 'ext4', '-o', 'nosuid,nodev', loop, path);
  } finally {
    // A device in use is only marked, and goes with the unmount.
    await runTool('losetup', '--detach', loop);
  }
  return loop;
}
