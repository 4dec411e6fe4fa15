import { open, readdir } from 'node:fs/promises';
import { join } from 'node:path';

const NEWLINE = 0x0a;

/** Counts the runs on record at a destination. Each call reads only what was written since the one before. */
export function recordCounter(root: string, plugin: string): () => Promise<number> {
  const readTo = new Map<string, number>();
  let count = 0;
  return async () => {
    for (const shoot of await readdir(root)) {
      const path = join(root, shoot, 'records/plugins', plugin, 'runs.jsonl');
      const file = await open(path).catch(() => null);
      if (file === null) continue;
      try {
        const { size } = await file.stat();
        const from = readTo.get(path) ?? 0;
        const { buffer } = await file.read(Buffer.alloc(size - from), 0, size - from, from);
        for (const byte of buffer) if (byte === NEWLINE) count += 1;
        readTo.set(path, size);
      } finally {
        await file.close();
      }
    }
    return count;
  };
}
