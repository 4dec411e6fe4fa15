import { constants } from 'node:fs';
import { dirname } from 'node:path';
import { createDestinationFolder } from '../destination/create-destination-folder.ts';
import { fileCalls, unlessCode } from '../direct-io/file-calls.ts';
import { syncFolder } from './sync-folder.ts';

/**
 * Appends lines of JSON to a file below a destination's root; when it returns they are durable. All in one append and one
 * sync. A line that an earlier crash left torn is ended first, so that only that one is lost.
 * @throws QuaysideError `DESTINATION_NOT_MOUNTED` where the file would have to be made and the root is no destination (any more)
 */
export async function appendLines(root: string, path: string, lines: readonly object[]): Promise<void> {
  const { fd, isNew } = await openForAppending(root, path);
  try {
    const text = lines.map((line) => `${JSON.stringify(line)}\n`).join('');
    const lineBreak = (await endsWhole(fd)) ? '' : '\n';
    await appendFully(fd, Buffer.from(lineBreak + text));
    await fileCalls.fsync(fd);
  } finally {
    await fileCalls.close(fd);
  }
  if (isNew) await syncFolder(dirname(path));
}

async function openForAppending(root: string, path: string): Promise<{ fd: number; isNew: boolean }> {
  const flags = constants.O_RDWR | constants.O_APPEND;
  const fd = await unlessCode(['ENOENT'], fileCalls.open(path, flags));
  if (fd !== null) return { fd, isNew: false };
  await createDestinationFolder(root, dirname(path));
  return { fd: await fileCalls.open(path, flags | constants.O_CREAT), isNew: true };
}

async function endsWhole(fd: number): Promise<boolean> {
  const { size } = await fileCalls.fstat(fd);
  if (size === 0) return true;
  const last = Buffer.alloc(1);
  await fileCalls.read(fd, last, size - 1);
  return last[0] === 0x0a;
}

async function appendFully(fd: number, bytes: Buffer): Promise<void> {
  let done = 0;
  // The position says nothing in append mode: every write goes to the end.
  while (done < bytes.length) done += await fileCalls.write(fd, bytes.subarray(done), 0);
}
