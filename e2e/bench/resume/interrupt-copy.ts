import { readdir, readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { startMover } from '@quayside/media-files';
import type { CopyRequest } from '@quayside/step-sdk/built-in';

/** Copies in a process of its own and kills that, as a power cut would, when so many bytes have been read. */
export async function interruptCopy(request: CopyRequest, afterBytes: number): Promise<void> {
  const mover = startMover();
  let read = 0;
  const onBytes = (bytes: number): void => {
    read += bytes;
    if (read >= afterBytes) mover.kill();
  };
  const stopped = await mover.copy(request, { signal: new AbortController().signal, onBytes }).then(
    () => false,
    () => true,
  );
  if (!stopped) throw new Error('The copy was done before it could be interrupted.');
}

/** The bytes of each part that an interrupted copy left durably at a destination: whole blocks, by its journal. */
export async function durableBytesAt(root: string): Promise<number> {
  const staging = join(root, '.quayside/staging');
  const names = await readdir(staging, { recursive: true });
  const journal = names.find((name) => name.endsWith('/journal'));
  const part = names.find((name) => name.endsWith('.part'));
  if (journal === undefined || part === undefined) throw new Error(`No part was left at ${root}.`);
  const text = await readFile(join(staging, journal), 'utf8');
  const { blockBytes } = JSON.parse(text.slice(0, text.indexOf('\n'))) as { blockBytes: number };
  const marked = (text.trimEnd().split('\n').length - 1) * blockBytes;
  return Math.min(marked, (await stat(join(staging, part))).size);
}
