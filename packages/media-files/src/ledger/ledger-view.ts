import type { Digests, ReadBackMethod } from '@quayside/shoot';
import { LedgerHeader, LedgerRecord, type StoredTimes } from './ledger-record.ts';

/** What a ledger says of one file. `digests` are the source's; `method` and `storedTimes` belong to a read-back. */
export interface LedgerFile {
  readonly state: 'written' | 'verified' | 'failed';
  readonly storedPath: string;
  readonly sizeInBytes: number;
  readonly modifiedMs: number;
  readonly digests: Digests;
  readonly method?: ReadBackMethod;
  readonly storedTimes?: StoredTimes;
  /** Of the last failure. */
  readonly failure?: { readonly code: string; readonly sentence: string };
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
    const { sizeInBytes, modifiedMs, digests } = record;
    view.files.set(path, { state: 'written', storedPath, sizeInBytes, modifiedMs, digests });
    return;
  }
  const before = view.files.get(path);
  // A verdict on another copy than the one last written says nothing about that one.
  if (before === undefined || before.storedPath !== storedPath) return;
  const { state: _state, method: _method, storedTimes: _times, failure: _failure, ...facts } = before;
  if (record.kind === 'verified') {
    view.files.set(path, { ...facts, state: 'verified', method: record.method, storedTimes: record.storedTimes });
    return;
  }
  view.files.set(path, { ...facts, state: 'failed', failure: { code: record.code, sentence: record.sentence } });
}

function parseJson(line: string): unknown {
  try {
    return JSON.parse(line);
  } catch {
    return null;
  }
}
