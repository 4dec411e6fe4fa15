import type { Digests, Instant, ReadBackMethod } from '@quayside/shoot';
import { type FoundCopy, LedgerHeader, LedgerRecord, type StoredTimes } from './ledger-record.ts';

/** What a ledger says of one file. `digests` are the source's; `method` and `storedTimes` belong to a read-back. */
export interface LedgerFile {
  readonly state: 'written' | 'verified' | 'failed';
  readonly storedPath: string;
  readonly sizeInBytes: number;
  readonly modifiedMs: number;
  readonly digests: Digests;
  /** 2 when the source was read a second time and gave the same. */
  readonly reads?: 2;
  readonly method?: ReadBackMethod;
  readonly storedTimes?: StoredTimes;
  /** When it was read back, for `verified`. */
  readonly verifiedAt?: Instant;
  /** Of the last failure. */
  readonly failure?: { readonly code: string; readonly sentence: string };
  /** The last copy that was read and found to be other than the source; it stands on when a new copy takes its place. */
  readonly damage?: LedgerDamage;
}

export interface LedgerDamage {
  readonly at: Instant;
  readonly storedPath: string;
  readonly found: FoundCopy;
}

/** A ledger read to its end. */
export interface LedgerView {
  /** The last header, without its `kind`, or null. */
  readonly header: Readonly<Record<string, unknown>> | null;
  readonly files: ReadonlyMap<string, LedgerFile>;
}

/** A view that lines can be added to, in the order they stand in the ledger. */
export interface GrowingLedgerView extends LedgerView {
  header: Readonly<Record<string, unknown>> | null;
  readonly files: Map<string, LedgerFile>;
}

/** Takes one line into the view. A line that is torn or not ours says nothing and is passed over. */
export function takeLine(view: GrowingLedgerView, line: string): void {
  const value = parseJson(line);
  const record = LedgerRecord.safeParse(value);
  if (record.success) return takeRecord(view, record.data);
  const header = LedgerHeader.safeParse(value);
  if (!header.success) return;
  const { kind: _kind, ...rest } = header.data;
  view.header = rest;
}

function takeRecord(view: GrowingLedgerView, record: LedgerRecord): void {
  const { path, storedPath } = record;
  if (record.kind === 'written') {
    const { sizeInBytes, modifiedMs, digests, reads } = record;
    const damage = view.files.get(path)?.damage;
    view.files.set(path, {
      state: 'written',
      storedPath,
      sizeInBytes,
      modifiedMs,
      digests,
      ...(reads !== undefined && { reads }),
      ...(damage !== undefined && { damage }),
    });
    return;
  }
  const before = view.files.get(path);
  // A verdict on another copy than the one last written says nothing about that one.
  if (before === undefined || before.storedPath !== storedPath) return;
  const { sizeInBytes, modifiedMs, digests, reads, damage } = before;
  const facts = {
    storedPath,
    sizeInBytes,
    modifiedMs,
    digests,
    ...(reads !== undefined && { reads }),
    ...(damage !== undefined && { damage }),
  };
  if (record.kind === 'verified') {
    const { method, storedTimes, at } = record;
    view.files.set(path, { ...facts, state: 'verified', method, storedTimes, verifiedAt: at });
    return;
  }
  const { code, sentence, found, at } = record;
  view.files.set(path, {
    ...facts,
    ...(found !== undefined && { damage: { at, storedPath, found } }),
    state: 'failed',
    failure: { code, sentence },
  });
}

function parseJson(line: string): unknown {
  try {
    return JSON.parse(line);
  } catch {
    return null;
  }
}
