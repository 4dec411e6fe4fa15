import { mkdir, open, readFile, rename } from 'node:fs/promises';
import { dirname } from 'node:path';
import { type JournalLine, parseLine } from './journal-line.ts';

/** A file of lines that only grows while it is open. */
export interface LineFile {
  /** What it held when it was opened. */
  readonly lines: readonly JournalLine[];
  /** Adds lines and syncs them, all or, after a crash, the first ones of them. */
  append(lines: readonly JournalLine[]): Promise<void>;
  close(): Promise<void>;
}

/** Opens the file, for this user only; `compact` may give fewer lines, which then replace what it holds. */
export async function openLineFile(
  path: string,
  compact: (lines: readonly JournalLine[]) => readonly JournalLine[],
): Promise<LineFile> {
  await mkdir(dirname(path), { recursive: true });
  const held = parseLines(await readIfThere(path));
  const lines = compact(held);
  if (lines.length < held.length) await replace(path, lines);
  const handle = await open(path, 'a', 0o600);
  return {
    lines,
    async append(added) {
      // The line break comes first too: after a torn line the next one still begins on its own.
      await handle.appendFile(`\n${textOf(added)}`);
      await handle.datasync();
    },
    close: () => handle.close(),
  };
}

/** The lines in a text; what a crash tore is passed over. */
export function parseLines(text: string): readonly JournalLine[] {
  return text.split('\n').flatMap((line) => (line === '' ? [] : (parseLine(line) ?? [])));
}

async function replace(path: string, lines: readonly JournalLine[]): Promise<void> {
  const staged = `${path}.new`;
  const handle = await open(staged, 'w', 0o600);
  try {
    await handle.writeFile(textOf(lines));
    await handle.sync();
  } finally {
    await handle.close();
  }
  await rename(staged, path);
}

function textOf(lines: readonly JournalLine[]): string {
  return lines.map((line) => `${JSON.stringify(line)}\n`).join('');
}

async function readIfThere(path: string): Promise<string> {
  try {
    return await readFile(path, 'utf8');
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return '';
    throw error;
  }
}
