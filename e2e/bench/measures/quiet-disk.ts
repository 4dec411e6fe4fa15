import { writeFile } from 'node:fs/promises';
import { runTool } from '../../drives/run-tool.ts';

/**
 * Brings the disk to rest before a measurement: everything written out and, where the rights allow, nothing kept in
 * memory, so that no run profits or suffers from the one before. False when the caches had to stay.
 */
export async function quietDisk(): Promise<boolean> {
  await runTool('sync');
  try {
    // Linux: Documentation/admin-guide/sysctl/vm.rst, 3 drops the page cache, directory entries and inodes.
    await writeFile('/proc/sys/vm/drop_caches', '3');
    return true;
  } catch {
    return false;
  }
}
