import { open, stat } from 'node:fs/promises';
import type { Delivery } from './delivery.ts';
import { JournalState } from './journal-state.ts';
import { parseLines } from './line-file.ts';

/**
 * A reader for other processes than the one that writes: gives all deliveries on record, the oldest first. It reads only
 * what is new since the last call. None when there is no journal.
 */
export function deliveryReader(path: string): () => Promise<readonly Delivery[]> {
  let state = new JournalState();
  let inode = 0n;
  let readTo = 0;
  return async () => {
    const found = await stat(path, { bigint: true }).catch(() => null);
    if (found === null) return [];
    if (found.ino !== inode || Number(found.size) < readTo) {
      // It was cut down, or begun anew.
      state = new JournalState();
      [inode, readTo] = [found.ino, 0];
    }
    const bytes = await readFrom(path, readTo, Number(found.size) - readTo);
    // A line that is being written is read the next time.
    const end = bytes.lastIndexOf('\n') + 1;
    readTo += end;
    for (const line of parseLines(bytes.toString('utf8', 0, end))) state.apply(line);
    return [...state.deliveries.values()];
  };
}

async function readFrom(path: string, position: number, length: number): Promise<Buffer> {
  const handle = await open(path, 'r');
  try {
    const { buffer, bytesRead } = await handle.read(Buffer.alloc(length), 0, length, position);
    return buffer.subarray(0, bytesRead);
  } finally {
    await handle.close();
  }
}
