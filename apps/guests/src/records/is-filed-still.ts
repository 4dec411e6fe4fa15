import { stat } from 'node:fs/promises';
import { join } from 'node:path';
import type { GuestRunRecord } from '@quayside/shoot';

/** Whether what a run left still lies at a destination, each file in its size. What is gone is made again. */
export async function isFiledStill(
  root: string,
  { filed, files }: Pick<GuestRunRecord, 'filed' | 'files'>,
): Promise<boolean> {
  if (filed === null) return true;
  for (const { path, sizeInBytes } of files) {
    const found = await stat(join(root, filed.folder, path)).catch(() => null);
    if (found?.size !== sizeInBytes) return false;
  }
  return true;
}
