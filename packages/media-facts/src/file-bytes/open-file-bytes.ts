import { closeSync, constants, fstatSync, openSync, readSync } from 'node:fs';
import type { FileBytes } from './file-bytes.ts';

// Not through a link, and without waiting: opening a named pipe would else wait for somebody to write into it.
const READ_ONLY = constants.O_RDONLY | (constants.O_NOFOLLOW ?? 0) | (constants.O_NONBLOCK ?? 0);
/** Leaves even the time of the last access alone; only the owner and root may ask for it. */
const WITHOUT_TRACE = READ_ONLY | (constants.O_NOATIME ?? 0);

/** Open for reading and nothing else. `isFile` is false for a folder, a pipe or a device, which must not be read. */
export interface OpenFileBytes extends FileBytes {
  readonly isFile: boolean;
  close(): void;
}

/**
 * Opens a file for reading in pieces. It reads synchronously: only the parser's process, which does one thing at a time,
 * may use it.
 * @throws the system's error, with its `code`
 */
export function openFileBytes(path: string | Uint8Array): OpenFileBytes {
  const fd = openWithoutTrace(typeof path === 'string' ? path : Buffer.from(path));
  const stats = fstatSync(fd);
  let bytesRead = 0;
  return {
    size: stats.size,
    isFile: stats.isFile(),
    readAt(position, length) {
      const wanted = Math.min(length, stats.size - position);
      if (wanted <= 0) return Buffer.alloc(0);
      const bytes = Buffer.allocUnsafe(wanted);
      let filled = 0;
      while (filled < wanted) {
        const count = readSync(fd, bytes, filled, wanted - filled, position + filled);
        if (count === 0) break;
        filled += count;
      }
      bytesRead += filled;
      return bytes.subarray(0, filled);
    },
    bytesRead: () => bytesRead,
    close: () => closeSync(fd),
  };
}

function openWithoutTrace(path: string | Buffer): number {
  try {
    return openSync(path, WITHOUT_TRACE);
  } catch (error) {
    if (!(error instanceof Error && 'code' in error && error.code === 'EPERM')) throw error;
    return openSync(path, READ_ONLY);
  }
}
