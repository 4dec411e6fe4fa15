import { readdir, readFile, stat } from 'node:fs/promises';
import { join, sep } from 'node:path';
import { GuestRunRecord } from '@quayside/shoot';
import type { GuestResult } from '@quayside/step-sdk/built-in';
import { forEachOf } from '../records/for-each-of.ts';

const AT_ONCE = 8;

/**
 * What plugins made of a shoot, for each destination of which the root is given: the runs that any of them has on record, of
 * one run the last, with the files as they lie at that destination. What cannot be read as a record is passed over.
 */
export async function guestResults(
  shootId: string,
  roots: ReadonlyMap<string, string>,
): Promise<ReadonlyMap<string, readonly GuestResult[]>> {
  const runs = new Map<string, GuestRunRecord>();
  for (const root of roots.values()) {
    for (const run of await runsOnRecord(join(root, shootId, 'records', 'plugins'), shootId)) {
      const known = runs.get(run.id);
      if (run.state === 'done' && (known === undefined || isLater(run, known))) runs.set(run.id, run);
    }
  }
  const results = new Map([...roots.keys()].map((name) => [name, [] as GuestResult[]]));
  await forEachOf(runs.values(), AT_ONCE, async (run) => {
    const files = await Promise.all(run.files.map((file) => placed(run, file.path, roots)));
    for (const name of roots.keys()) results.get(name)?.push(resultAt(name, run, files));
  });
  return results;
}

interface PlacedFile {
  readonly path: string;
  /** Below the shoot's folder. */
  readonly place: string;
  /** The destinations that have it. */
  readonly at: readonly string[];
}

async function placed(run: GuestRunRecord, path: string, roots: ReadonlyMap<string, string>): Promise<PlacedFile> {
  const folder = run.filed?.folder ?? '';
  const at: string[] = [];
  for (const [name, root] of roots) if (folder !== '' && (await isFile(join(root, folder, path)))) at.push(name);
  return { path, place: join(folder, path).split(sep).slice(1).join('/'), at };
}

function resultAt(
  name: string,
  { step, version, subject, endedAt, output, findings }: GuestRunRecord,
  files: readonly PlacedFile[],
): GuestResult {
  return {
    step,
    version,
    subject,
    endedAt,
    output,
    findings,
    files: files.map(({ path, place, at }) => ({
      path,
      place: at.includes(name) ? place : null,
      elsewhere: at.filter((other) => other !== name),
    })),
  };
}

function isLater(run: GuestRunRecord, than: GuestRunRecord): boolean {
  return (run.endedAt ?? '') > (than.endedAt ?? '');
}

/** The runs in the journals of the plugins below a folder, a line each: of those of one run the last counts. */
async function runsOnRecord(folder: string, shootId: string): Promise<Iterable<GuestRunRecord>> {
  const runs = new Map<string, GuestRunRecord>();
  for (const plugin of await readdir(folder).catch(() => [])) {
    for (const line of await linesOf(join(folder, plugin, 'runs.jsonl'))) {
      const run = runIn(line);
      if (run?.shootId === shootId) runs.set(run.id, run);
    }
  }
  return runs.values();
}

async function linesOf(path: string): Promise<readonly string[]> {
  const text = await readFile(path, 'utf8').catch(() => '');
  return text.split('\n').filter((line) => line !== '');
}

function runIn(line: string): GuestRunRecord | null {
  try {
    return GuestRunRecord.parse(JSON.parse(line));
  } catch {
    return null;
  }
}

async function isFile(path: string): Promise<boolean> {
  return stat(path).then(
    (found) => found.isFile(),
    () => false,
  );
}
