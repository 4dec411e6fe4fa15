import { constants } from 'node:fs';
import { readdir } from 'node:fs/promises';
import { fileCalls, unlessCode } from '../direct-io/file-calls.ts';
import { LEDGER_SUFFIX, ledgerFolder, ledgerPath } from './ledger-path.ts';
import { type GrowingLedgerView, type LedgerView, takeLine } from './ledger-view.ts';

/** What a roll's ledger at a destination says now; an absent ledger says nothing. A torn last line is passed over. */
export async function readLedger(root: string, rollId: string): Promise<LedgerView> {
  return createLedgerReader(root, rollId).read();
}

/** The rolls that have a ledger at this destination, sorted. */
export async function listLedgers(root: string): Promise<string[]> {
  const names = (await unlessCode(['ENOENT'], readdir(ledgerFolder(root)))) ?? [];
  return names
    .filter((name) => name.endsWith(LEDGER_SUFFIX))
    .map((name) => name.slice(0, -LEDGER_SUFFIX.length))
    .toSorted();
}

/** Reads one ledger again and again, each time only what was added: a roll of many parcels is read once, not once each. */
export interface LedgerReader {
  read(): Promise<LedgerView>;
}

export function createLedgerReader(root: string, rollId: string): LedgerReader {
  const path = ledgerPath(root, rollId);
  let view = emptyView();
  let seen = { fileId: '', length: 0 };
  return {
    read: async () => {
      const fd = await unlessCode(['ENOENT'], fileCalls.open(path, constants.O_RDONLY));
      if (fd === null) {
        view = emptyView();
        seen = { fileId: '', length: 0 };
        return view;
      }
      try {
        const { dev, ino, size } = await fileCalls.fstat(fd);
        const fileId = `${dev}:${ino}`;
        if (fileId !== seen.fileId || size < seen.length) {
          view = emptyView();
          seen = { fileId, length: 0 };
        }
        const added = await readStretch(fd, seen.length, size);
        // Only whole lines: what follows the last line break may still be growing, or was torn by a crash.
        const wholeLength = added.lastIndexOf(0x0a) + 1;
        for (const line of added.toString('utf8', 0, wholeLength).split('\n')) if (line !== '') takeLine(view, line);
        seen = { fileId, length: seen.length + wholeLength };
        return view;
      } finally {
        await fileCalls.close(fd);
      }
    },
  };
}

function emptyView(): GrowingLedgerView {
  return { header: null, files: new Map() };
}

async function readStretch(fd: number, start: number, end: number): Promise<Buffer> {
  const bytes = Buffer.alloc(end - start);
  let done = 0;
  while (done < bytes.length) {
    const count = await fileCalls.read(fd, bytes.subarray(done), start + done);
    if (count === 0) break;
    done += count;
  }
  return bytes.subarray(0, done);
}
