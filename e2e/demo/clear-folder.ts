import { mkdir, readdir, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { QuaysideError } from '@quayside/shoot';
import { clearLeftOvers } from './demo-drives.ts';

const MARKER = '.quayside-demo';

/**
 * Makes the demo's folder, empty: what an earlier demo left in it goes, its mounts first. A folder that is the demo's own by
 * its name needs no marker.
 * @throws QuaysideError `DEMO_FOLDER_TAKEN` when something else lies there, which then stays.
 */
export async function clearFolder(folder: string, { isOwn }: { readonly isOwn: boolean }): Promise<void> {
  const names = await readdir(folder).catch((): string[] => []);
  if (!isOwn && names.length > 0 && !names.includes(MARKER)) {
    const sentence = `${folder} holds something that no demo has made, so it is left as it is. Name an empty folder, or one of an earlier demo.`;
    throw new QuaysideError({ code: 'DEMO_FOLDER_TAKEN', sentence, retry: 'never' });
  }
  await clearLeftOvers(join(folder, 'drives'));
  await rm(folder, { recursive: true, force: true });
  await mkdir(folder, { recursive: true });
  await writeFile(join(folder, MARKER), 'The Quayside demo makes this folder anew each time it runs.\n');
}
