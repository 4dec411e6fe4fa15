import { DatabaseSync } from 'node:sqlite';
import { QuaysideError } from '@quayside/shoot';
import type { RedisPlaces } from './redis-places.ts';

const SQLITE_BUSY = 5;

/**
 * Claims the folder for one Redis, until `release` or the end of this process in whatever way. Two servers on one folder
 * would take each other's socket and spoil each other's append-only file without noticing.
 * @throws QuaysideError `REDIS_FOLDER_IN_USE` when another service holds it.
 */
export function holdRedisFolder(places: RedisPlaces): { release(): void } {
  // SQLite, only for its lock: Node has no file lock of its own, and this one goes away with the process, also by kill -9.
  const database = new DatabaseSync(places.lockFile);
  try {
    database.exec('BEGIN EXCLUSIVE');
  } catch (error) {
    database.close();
    throw refusal(places, error);
  }
  return {
    release() {
      if (database.isOpen) database.close();
    },
  };
}

function refusal(places: RedisPlaces, error: unknown): unknown {
  if (!(error instanceof Error && 'errcode' in error && error.errcode === SQLITE_BUSY)) return error;
  return new QuaysideError(
    {
      code: 'REDIS_FOLDER_IN_USE',
      sentence: `Another service already runs its Redis in ${places.folder}. Stop that one first, or give this one another data folder.`,
      retry: 'never',
    },
    { cause: error },
  );
}
