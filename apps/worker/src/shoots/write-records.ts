import { readdir, unlink } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { createDestinationFolder, syncFolder, writeDurably } from '@quayside/media-files';
import { GROUP_TIMELINES } from '@quayside/shoot-records';

/** Writes the files into a folder below a destination's root, each whole or not at all, and removes the timelines of groups that are no more. */
export async function writeRecords(root: string, folder: string, files: ReadonlyMap<string, string>): Promise<void> {
  for (const [name, text] of files) {
    const path = join(folder, name);
    await createDestinationFolder(root, dirname(path));
    await writeDurably(path, text);
  }
  await removeOldTimelines(folder, files);
}

async function removeOldTimelines(folder: string, files: ReadonlyMap<string, string>): Promise<void> {
  const timelines = join(folder, GROUP_TIMELINES);
  const there = await readdir(timelines).catch(() => []);
  // Only what bears the name that this folder's own files have; a person's file stays.
  const old = there.filter((name) => /^[a-z0-9-]+\.otio$/.test(name) && !files.has(`${GROUP_TIMELINES}/${name}`));
  for (const name of old) await unlink(join(timelines, name));
  if (old.length > 0) await syncFolder(timelines);
}
