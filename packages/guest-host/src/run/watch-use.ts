import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { memoryOf, useOfPrograms } from './memory-of.ts';

export interface UseLimits {
  readonly pid: number;
  readonly memoryMb: number;
  /** For all programs together that it has started; null when it may start none. */
  readonly programsMb: number | null;
  /** The folder whose files count, and how much they may take. */
  readonly folder: string;
  readonly outputMb: number;
}

export interface UseAlarms {
  readonly onMemory: () => void;
  readonly onDisk: () => void;
  readonly onProgramsMemory: () => void;
  /** It has started more programs than this, which have not ended. */
  readonly onPrograms: (most: number) => void;
}

const MEMORY_EVERY_MS = 100;
const DISK_EVERY_TURNS = 20;
const MB = 1e6;
const MOST_ENTRIES = 20_000;
/** ffmpeg is one; a program that starts others without end is stopped before it has taken the computer. */
const MOST_PROGRAMS = 64;

/** Looks at what a process uses, ten times a second, until it is told to stop. Between two looks it may use more. */
export function watchUse(limits: UseLimits, alarms: UseAlarms): () => void {
  let isOver = false;
  let turn = 0;
  let timer: NodeJS.Timeout | undefined;
  const look = async (): Promise<void> => {
    turn += 1;
    const memory = await memoryOf(limits.pid);
    if (!isOver && memory !== null && memory > limits.memoryMb * MB) alarms.onMemory();
    if (!isOver && limits.programsMb !== null) await lookAtPrograms(limits.pid, limits.programsMb);
    if (!isOver && turn % DISK_EVERY_TURNS === 0 && (await isOverfull(limits))) alarms.onDisk();
    if (!isOver) timer = setTimeout(() => void look(), MEMORY_EVERY_MS);
  };
  const lookAtPrograms = async (pid: number, programsMb: number): Promise<void> => {
    const { bytes, programs } = await useOfPrograms(pid, MOST_PROGRAMS + 1);
    if (isOver) return;
    if (programs > MOST_PROGRAMS) alarms.onPrograms(MOST_PROGRAMS);
    if (bytes > programsMb * MB) alarms.onProgramsMemory();
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
