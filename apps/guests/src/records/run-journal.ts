import { createReadStream } from 'node:fs';
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { appendLines, writeDurably } from '@quayside/media-files';
import { GuestRunRecord } from '@quayside/shoot';
import { z } from 'zod';
import { pluginsFolder } from './run-places.ts';

const JOURNAL = 'runs.jsonl';
const Line = z.object({ id: z.string(), shootId: z.string() });
/** So many lines more than runs, and as many again as there are runs, are borne before a journal is written anew. */
const SPARE_LINES = 1000;

/**
 * Writes what became of a plugin's runs beside the footage, so that a view that was lost need not run everything again. A
 * line each, the later one of a run in place of the earlier, and one sync for all: a file each would cost two for every run.
 */
export async function appendRuns(root: string, shootId: string, records: readonly GuestRunRecord[]): Promise<void> {
  const byPlugin = Map.groupBy(records, ({ step }) => step.slice(0, step.indexOf('/')));
  await Promise.all(
    [...byPlugin].map(([plugin, lines]) => appendLines(root, journalPath(root, shootId, plugin), lines)),
  );
}

/**
 * The runs of a shoot on record at a destination, each as it last stood. What cannot be read as one is passed over: it is
 * made again. A journal whose lines are mostly of runs that were made again later is written anew first.
 */
export async function* readRuns(root: string, shootId: string): AsyncGenerator<GuestRunRecord> {
  for (const plugin of await readdir(join(root, pluginsFolder(shootId))).catch(() => [])) {
    const path = journalPath(root, shootId, plugin);
    let journal = await lookThrough(path, shootId);
    if (journal.lines > 2 * journal.lastLines.size + SPARE_LINES) {
      await writeAnew(path, journal.lastLines);
      journal = await lookThrough(path, shootId);
    }
    for await (const [number, line] of linesOf(path)) {
      const record = journal.lastLines.has(number) ? recordIn(line, shootId) : null;
      if (record !== null) yield record;
    }
  }
}

function journalPath(root: string, shootId: string, plugin: string): string {
  return join(root, pluginsFolder(shootId), plugin, JOURNAL);
}

/** How many lines there are, and the numbers of those that still count. */
async function lookThrough(path: string, shootId: string): Promise<{ lines: number; lastLines: ReadonlySet<number> }> {
  const lastLineOf = new Map<string, number>();
  let lines = 0;
  for await (const [number, line] of linesOf(path)) {
    lines = number;
    const id = idIn(line, shootId);
    if (id !== null) lastLineOf.set(id, number);
  }
  return { lines, lastLines: new Set(lastLineOf.values()) };
}

async function writeAnew(path: string, lastLines: ReadonlySet<number>): Promise<void> {
  const kept: string[] = [];
  for await (const [number, line] of linesOf(path)) if (lastLines.has(number)) kept.push(`${line}\n`);
  await writeDurably(path, kept.join(''));
}

async function* linesOf(path: string): AsyncGenerator<readonly [number, string]> {
  const input = createReadStream(path, 'utf8');
  let number = 0;
  try {
    for await (const line of createInterface({ input, crlfDelay: Number.POSITIVE_INFINITY })) {
      number += 1;
      yield [number, line];
    }
  } catch {
    // Not there yet, or a destination that went away: what was not read is made again.
  }
}

/** Of a line that is none, null. Whether the rest of it is a run shows when it is read as one. */
function idIn(line: string, shootId: string): string | null {
  try {
    const told = Line.parse(JSON.parse(line));
    return told.shootId === shootId ? told.id : null;
  } catch {
    return null;
  }
}

function recordIn(line: string, shootId: string): GuestRunRecord | null {
  try {
    const record = GuestRunRecord.parse(JSON.parse(line));
    return record.shootId === shootId ? record : null;
  } catch {
    return null;
  }
}
