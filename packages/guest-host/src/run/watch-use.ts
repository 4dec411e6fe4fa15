import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { memoryOf } from './memory-of.ts';

export interface UseLimits {
  readonly pid: number;
  readonly memoryMb: number;
  /** The folder whose files count, and how much they may take. */
  readonly folder: string;
  readonly outputMb: number;
}

export interface UseAlarms {
  readonly onMemory: () => void;
  readonly onDisk: () => void;
}

const MEMORY_EVERY_MS = 100;
const DISK_EVERY_TURNS = 20;
const MB = 1e6;
const MOST_ENTRIES = 20_000;

/** Looks at what a process uses, ten times a second, until it is told to stop. Between two looks it may use more. */
export function watchUse(limits: UseLimits, { onMemory, onDisk }: UseAlarms): () => void {
  let isOver = false;
  let turn = 0;
  let timer: NodeJS.Timeout | undefined;
  const look = async (): Promise<void> => {
    turn += 1;
    const memory = await memoryOf(limits.pid);
    if (!isOver && memory !== null && memory > limits.memoryMb * MB) onMemory();
    if (!isOver && turn % DISK_EVERY_TURNS === 0 && (await isOverfull(limits))) onDisk();
    if (!isOver) timer = setTimeout(() => void look(), MEMORY_EVERY_MS);
  };
  timer = setTimeout(() => void look(), MEMORY_EVERY_MS);
  return () => {
    isOver = true;
    clearTimeout(timer);
  };
}

async function isOverfull({ folder, outputMb }: UseLimits): Promise<boolean> {
  // Files come and go while it works.
  const entries = await readdir(folder, { recursive: true, withFileTypes: true }).catch(() => []);
  if (entries.length > MOST_ENTRIES) return true;
  let total = 0;
  for (const entry of entries) {
    if (entry.isFile()) total += (await stat(join(entry.parentPath, entry.name)).catch(() => null))?.size ?? 0;
  }
  return total > outputMb * MB;
}
