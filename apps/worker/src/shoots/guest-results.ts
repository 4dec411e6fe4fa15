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
    await forEachOf(await recordPaths(join(root, shootId, 'records', 'plugins')), AT_ONCE, async (path) => {
      const run = await readRecord(path);
      const known = run === null ? undefined : runs.get(run.id);
      if (run?.state === 'done' && run.shootId === shootId && (known === undefined || isLater(run, known)))
        runs.set(run.id, run);
    });
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

async function recordPaths(folder: string): Promise<readonly string[]> {
  const paths: string[] = [];
  for (const plugin of await namesIn(folder)) {
    const runs = join(folder, plugin, 'runs');
    for (const name of await namesIn(runs)) if (name.endsWith('.json')) paths.push(join(runs, name));
  }
  return paths;
}

async function namesIn(folder: string): Promise<readonly string[]> {
  return readdir(folder).catch(() => []);
}

async function readRecord(path: string): Promise<GuestRunRecord | null> {
  try {
    return GuestRunRecord.parse(JSON.parse(await readFile(path, 'utf8')));
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
