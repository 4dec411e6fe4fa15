import { constants, openSync } from 'node:fs';
import { errorCodeOf, fileCalls } from './file-calls.ts';

/** An open descriptor, and whether it moves bytes past the page cache. */
export interface OpenFile {
  readonly fd: number;
  readonly isDirect: boolean;
}

/** Absent where the system has no such flag (macOS). */
const DIRECT: number | undefined = constants.O_DIRECT;

/** Codes by which a file system says that it has no direct I/O. */
export const REFUSES_DIRECT = ['EINVAL', 'ENOTSUP', 'EOPNOTSUPP'];

/** Opens with direct I/O, at once on this thread. @throws the system's error also where there is no direct I/O. The caller closes. */
export function openDirectlyAtOnce(path: string | Buffer, flags: number): number {
  if (DIRECT === undefined) throw new Error('This system has no flag for direct I/O');
  return openSync(path, flags | DIRECT);
}

/** Opens with direct I/O where the file system allows it, else plainly, and says which. The caller closes. */
export async function openPastCache(path: string | Buffer, flags: number): Promise<OpenFile> {
  if (DIRECT === undefined) return { fd: await fileCalls.open(path, flags), isDirect: false };
  try {
    return { fd: await fileCalls.open(path, flags | DIRECT), isDirect: true };
  } catch (error) {
    if (!REFUSES_DIRECT.includes(errorCodeOf(error))) throw error;
    // Linux creates the file before it finds that the flag is refused, so an exclusive create would now meet its own file.
    const flagsNow = flags & ~(constants.O_CREAT | constants.O_EXCL);
    return { fd: await fileCalls.open(path, flagsNow), isDirect: false };
  }
}
