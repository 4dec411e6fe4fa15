import { mkdir, open, readFile } from 'node:fs/promises';
import { dirname } from 'node:path';
import { AuditEntry } from './audit-entry.ts';

/** The record of changes: lines of JSON in a file that only ever grows, outside Redis because Redis may be lost. */
export interface AuditLog {
  /** Adds an entry and syncs it. */
  add(entry: AuditEntry): Promise<void>;
  /** All entries, the oldest first; a line that was torn by a crash is passed over. */
  all(): Promise<readonly AuditEntry[]>;
}

/** Opens the record in a file, which is made at the first entry, readable by this user alone. */
export function openAuditLog(file: string): AuditLog {
  return {
    async add(entry) {
      await mkdir(dirname(file), { recursive: true });
      const handle = await open(file, 'a', 0o600);
      try {
        // The line break comes first too: after a torn line the next entry still begins on its own.
        await handle.appendFile(`\n${JSON.stringify(entry)}\n`);
        await handle.datasync();
      } finally {
        await handle.close();
      }
    },
    async all() {
      const text = await readFile(file, 'utf8').catch(() => '');
      return text.split('\n').flatMap((line) => parseLine(line) ?? []);
    },
  };
}

function parseLine(line: string): AuditEntry | null {
  try {
    return AuditEntry.parse(JSON.parse(line));
  } catch {
    return null;
  }
}
