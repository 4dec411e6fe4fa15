import type { HashAlgorithm } from '@quayside/shoot';
import type { StopSignal } from '@quayside/step-sdk/built-in';
import { fanOut, type FanOutResult } from '../workbench/fan-out.ts';
import { fileCalls } from '../direct-io/file-calls.ts';
import type { ReadAt } from '../direct-io/read-ahead.ts';
import type { Workbench } from '../workbench/workbench.ts';

export interface HashOrder {
  readonly sizeInBytes: number;
  readonly algorithms: readonly HashAlgorithm[];
  readonly workbench: Workbench;
  readonly signal?: StopSignal;
  readonly onBytes?: (bytes: number) => void;
}

const NEVER: StopSignal = { aborted: false, throwIfAborted: () => undefined };

/** Hashes the first `sizeInBytes` of an open file, or what there is of them. The caller opens and closes. */
export async function hashOpenFile(fd: number, order: HashOrder): Promise<FanOutResult> {
  const { sizeInBytes, algorithms, workbench, signal = NEVER, onBytes = () => undefined } = order;
  const readAt: ReadAt = (bytes, position) => fileCalls.read(fd, bytes, position);
  return workbench.hashers.lend(algorithms, async (hasher) => {
    const shelf = workbench.shelfFor(sizeInBytes);
    return fanOut(readAt, { sizeInBytes, shelf, sinks: [], hasher, signal, onBytes });
  });
}
