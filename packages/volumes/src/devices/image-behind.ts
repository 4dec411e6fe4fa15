import { join } from 'node:path';
import { readAttribute } from './block-device.ts';

/** The file that a loop device of this name stands on, as the kernel knows it; null for any other disk. Touches no drive. */
export function imageBehind(disk: string): string | null {
  return /^loop\d+$/.test(disk) ? readAttribute(join('/sys/block', disk, 'loop'), 'backing_file') : null;
}
