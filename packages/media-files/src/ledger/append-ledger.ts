import { constants } from 'node:fs';
import { isDeepStrictEqual } from 'node:util';
import { createDestinationFolder } from '../destination/create-destination-folder.ts';
import { fileCalls, unlessCode } from '../direct-io/file-calls.ts';
import { syncFolder } from '../durable/sync-folder.ts';
import { ledgerFolder, ledgerPath } from './ledger-path.ts';
import type { LedgerRecord } from './ledger-record.ts';
import { readLedger } from './read-ledger.ts';

/**
 * Records outcomes in a roll's ledger at a destination; when it returns they are durable. All in one append and one sync.
 * @throws QuaysideError `DESTINATION_NOT_MOUNTED` where a ledger would have to be made and the root is no destination (any more)
 */
export async function appendRecords(root: string, rollId: string, records: readonly LedgerRecord[]): Promise<void> {
  if (records.length > 0) await appendLines(root, rollId, records);
}

/** Makes sure that a roll's ledger is there and ends with this header; a header that stands already is not written again. */
export async function openRollLedger(
  root: string,
  rollId: string,
  header: Readonly<Record<string, unknown>>,
): Promise<void> {
  const { header: standing } = await readLedger(root, rollId);
  const wanted: unknown = JSON.parse(JSON.stringify(header));
  if (isDeepStrictEqual(standing, wanted)) return;
  await appendLines(root, rollId, [{ ...header, kind: 'roll' }]);
}

async function appendLines(root: string, rollId: string, lines: readonly object[]): Promise<void> {
  const path = ledgerPath(root, rollId);
  const { fd, isNew } = await openForAppending(root, path);
  try {
    const text = lines.map((line) => `${JSON.stringify(line)}\n`).join('');
    const lineBreak = (await endsWhole(fd)) ? '' : '\n';
    await appendFully(fd, Buffer.from(lineBreak + text));
    await fileCalls.fsync(fd);
  } finally {
    await fileCalls.close(fd);
  }
  if (isNew) await syncFolder(ledgerFolder(root));
}

async function openForAppending(root: string, path: string): Promise<{ fd: number; isNew: boolean }> {
  const flags = constants.O_RDWR | constants.O_APPEND;
  const fd = await unlessCode(['ENOENT'], fileCalls.open(path, flags));
  if (fd !== null) return { fd, isNew: false };
  await createDestinationFolder(root, ledgerFolder(root));
  return { fd: await fileCalls.open(path, flags | constants.O_CREAT), isNew: true };
}

async function endsWhole(fd: number): Promise<boolean> {
  const { size } = await fileCalls.fstat(fd);
  if (size === 0) return true;
  const last = Buffer.alloc(1);
  await fileCalls.read(fd, last, size - 1);
  return last[0] === 0x0a;
}

async function appendFully(fd: number, bytes: Buffer): Promise<void> {
  let done = 0;
  // The position says nothing in append mode: every write goes to the end.
  while (done < bytes.length) done += await fileCalls.write(fd, bytes.subarray(done), 0);
}
