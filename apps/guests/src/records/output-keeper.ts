import { join } from 'node:path';
import type { OutputFiles } from '@quayside/guest-host';
import { freeBytes } from '@quayside/media-files';
import { failureOf, type GuestRunRecord } from '@quayside/shoot';
import { fileOutput, hashOutput } from './file-output.ts';
import type { Roots } from './run-recorder.ts';

type Filed = Pick<GuestRunRecord, 'filed' | 'files'>;

export interface OutputParts {
  /** What is to stay free at a destination, in bytes, by its name. */
  readonly keepFreeBytes: ReadonlyMap<string, number>;
  readonly log: (sentence: string, details?: Record<string, unknown>) => void;
}

/**
 * Files what a run left at all destinations of its shoot, the one whose copies it read first; each copy is read back. One
 * that is full or fails is passed over: it gets its copy later, from another.
 * @throws whatever the last destination failed with, when none has it
 */
export async function fileAtAll(
  left: OutputFiles,
  { place, roots }: { readonly place: string; readonly roots: Roots },
  parts: OutputParts,
): Promise<Filed> {
  const output = await hashOutput(left.folder, left.files);
  const at: string[] = [];
  let last: unknown = new Error('No destination of the shoot is there.');
  for (const [name, root] of roots) {
    try {
      if (at.length > 0 && !(await hasRoom(root, { name, files: output.files }, parts))) continue;
      await fileOutput(root, place, output);
      at.push(name);
    } catch (error) {
      last = error;
    }
  }
  const [destination, ...alsoAt] = at;
  if (destination === undefined) throw last;
  return { filed: { destination, folder: place, alsoAt }, files: output.files };
}

/** The destinations of these that lack what a run left, while one that has it is there. */
export function lackingAt({ filed }: Pick<GuestRunRecord, 'filed'>, roots: Roots): readonly string[] {
  if (filed === null) return [];
  const having = [filed.destination, ...filed.alsoAt];
  return having.some((name) => roots.has(name)) ? [...roots.keys()].filter((name) => !having.includes(name)) : [];
}

/** Gives what a run left to the destinations that lack it. The run as it stands then, or null when none could have it. */
export async function fileWhereLacking(
  run: GuestRunRecord,
  roots: Roots,
  parts: OutputParts,
): Promise<GuestRunRecord | null> {
  const { filed, files } = run;
  if (filed === null) return null;
  const having = [filed.destination, ...filed.alsoAt].filter((name) => roots.has(name));
  const given: string[] = [];
  for (const name of lackingAt(run, roots)) {
    const root = roots.get(name) ?? '';
    for (const from of having) {
      try {
        if (!(await hasRoom(root, { name, files }, parts))) break;
        await fileOutput(root, filed.folder, { folder: join(roots.get(from) ?? '', filed.folder), files });
        given.push(name);
        break;
      } catch (error) {
        parts.log(failureOf(error).sentence, { run: run.id, from, to: name });
      }
    }
  }
  return given.length === 0 ? null : { ...run, filed: { ...filed, alsoAt: [...filed.alsoAt, ...given] } };
}

async function hasRoom(
  root: string,
  { name, files }: { readonly name: string; readonly files: GuestRunRecord['files'] },
  { keepFreeBytes }: OutputParts,
): Promise<boolean> {
  const wanted = files.reduce((sum, { sizeInBytes }) => sum + sizeInBytes, keepFreeBytes.get(name) ?? 0);
  return (await freeBytes(root)) > wanted;
}
