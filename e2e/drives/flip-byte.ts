import { open } from 'node:fs/promises';

/** Changes the first or the last byte of a file through its file system, as an edit would: durably, and its times tell. */
export async function flipByte(path: string, which: 'first' | 'last'): Promise<void> {
  await using file = await open(path, 'r+');
  const position = which === 'first' ? 0 : (await file.stat()).size - 1;
  const byte = Buffer.alloc(1);
  await file.read(byte, 0, 1, position);
  await file.write(Buffer.from([(byte[0] ?? 0) ^ 1]), 0, 1, position);
  await file.sync();
}
