import { rename, stat } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { createDestinationFolder, openRollLedger, syncFolder } from '@quayside/media-files';
import { QuaysideError, rollFolder, type Roll } from '@quayside/shoot';
import type { Destination } from '@quayside/step-sdk/built-in';
import { ledgerHeader } from '../records/ledger-header.ts';

/**
 * Moves what is copied of an unsealed roll to another shoot at one destination. Done before, or nothing there yet: nothing
 * happens. A folder of that name already in the other shoot is never merged into.
 */
export async function moveRoll(roll: Roll, toShoot: string, destination: Destination): Promise<void> {
  const from = join(destination.root, rollFolder(roll));
  const to = join(destination.root, rollFolder({ ...roll, shootId: toShoot }));
  if (await exists(from)) {
    if (await exists(to)) {
      throw new QuaysideError({
        code: 'ROLL_FOLDER_TAKEN',
        sentence: `Roll ${roll.id} cannot move to shoot ${toShoot} at ${destination.name}: ${to} is already there. Look at that folder first.`,
        retry: 'never',
      });
    }
    await createDestinationFolder(destination.root, dirname(to));
    await rename(from, to);
    await syncFolder(dirname(to));
    await syncFolder(dirname(from));
  }
  await openRollLedger(destination.root, roll.id, ledgerHeader({ ...roll, shootId: toShoot }, roll.openedAt));
}

async function exists(path: string): Promise<boolean> {
  try {
    await stat(path);
    return true;
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return false;
    throw error;
  }
}
