import { randomUUID } from 'node:crypto';
import { constants } from 'node:fs';
import { readdir } from 'node:fs/promises';
import { join } from 'node:path';
import { fileCalls } from '../direct-io/file-calls.ts';
import type { NameFit } from '../names/stored-path.ts';

/** Names of each troublesome kind. Some file systems refuse them, others quietly store another name. */
const TRIAL_ENDINGS = ['"*:<>?\\|x', ' .'];

/** Finds out by trying, in a folder of ours, which names a destination's file system holds. */
export async function probeNameFit(folder: string): Promise<NameFit> {
  for (const ending of TRIAL_ENDINGS)
    if (!(await holdsName(folder, `names-${randomUUID()}${ending}`))) return 'portable';
  return 'any';
}

async function holdsName(folder: string, name: string): Promise<boolean> {
  const path = join(folder, name);
  try {
    const fd = await fileCalls.open(path, constants.O_WRONLY | constants.O_CREAT | constants.O_EXCL);
    await fileCalls.close(fd);
    const isKept = (await readdir(folder)).includes(name);
    await fileCalls.unlink(path);
    return isKept;
  } catch {
    return false;
  }
}
