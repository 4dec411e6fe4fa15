import { readFileSync, writeFileSync } from 'node:fs';
import { mkdir } from 'node:fs/promises';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { QuaysideError } from '@quayside/shoot';

const SQLITE_BUSY = 5;

/**
 * Makes the data folder if need be and claims it for this service, until `release` or the end of this process in whatever
 * way: two services on one folder would copy the same drives against each other.
 * @throws QuaysideError `ALREADY_RUNNING` with the process that holds it, `DATA_FOLDER_UNUSABLE`.
 */
export async function holdDataFolder(folder: string): Promise<{ release(): void }> {
  const lockFile = join(folder, 'service.lock');
  const pidFile = join(folder, 'service.pid');
  let database: DatabaseSync | null = null;
  try {
    await mkdir(folder, { recursive: true, mode: 0o700 });
    // SQLite, only for its lock: unlike a file with a process number in it, it goes away with the process, also by kill -9,
    // and a number that another process has got meanwhile cannot be mistaken for ours.
    database = new DatabaseSync(lockFile);
    database.exec('BEGIN EXCLUSIVE');
    writeFileSync(pidFile, `${process.pid} ${new Date().toISOString()}\n`);
  } catch (error) {
    database?.close();
    throw refusal(folder, pidFile, error);
  }
  const held = database;
  return {
    release() {
      if (held.isOpen) held.close();
    },
  };
}

function refusal(folder: string, pidFile: string, cause: unknown): QuaysideError {
  if (cause instanceof Error && 'errcode' in cause && cause.errcode === SQLITE_BUSY) {
    const [pid = 'unknown', since = 'unknown'] = textOf(pidFile).split(' ');
    const sentence = `Quayside already runs on the data folder ${folder} (process ${pid}, since ${since}). Stop it first with "kill ${pid}", or give this one a configuration with another data folder.`;
    return new QuaysideError({ code: 'ALREADY_RUNNING', sentence, retry: 'never' }, { cause });
  }
  const why = cause instanceof Error ? cause.message : String(cause);
  const sentence = `The data folder ${folder} cannot be used (${why}). Make it a folder that belongs to the user that runs the service, or set \`data\` in the configuration.`;
  return new QuaysideError({ code: 'DATA_FOLDER_UNUSABLE', sentence, retry: 'never' }, { cause });
}

function textOf(file: string): string {
  try {
    return readFileSync(file, 'utf8').trim();
  } catch {
    return '';
  }
}
