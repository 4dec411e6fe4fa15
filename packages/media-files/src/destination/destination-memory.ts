import type { Destination } from '@quayside/step-sdk/built-in';
import { fileCalls } from '../direct-io/file-calls.ts';
import { promptCalls, type SmallFileCalls } from '../direct-io/prompt-calls.ts';
import { createLedgerReader, type LedgerReader } from '../ledger/read-ledger.ts';
import type { NameFit } from '../names/stored-path.ts';
import { createGate, type Gate } from '../workbench/gate.ts';
import { createFileSystemSyncer, type FileSystemSyncer } from './file-system-syncer.ts';
import { isOnLocalDisk } from './local-disk.ts';
import { probeNameFit } from './name-fit.ts';
import { openStagingFolder } from './staging-folder.ts';

/** What a process has found out about a destination and need not find out again with each parcel. */
export interface KnownDestination {
  readonly nameFit: NameFit;
  readonly stagingFolder: string;
  ledger(rollId: string): LedgerReader;
  /** Where there are no hard links, names are checked and then given; one at a time, so that no two take the same. */
  readonly placing: Gate;
  hasLinks: boolean;
  readonly calls: SmallFileCalls;
  /** True where those calls return at once, so that this thread makes them. */
  readonly isPrompt: boolean;
  /** The number of the device it lies on, as `stat` gives it. */
  readonly device: number;
  readonly syncer: FileSystemSyncer;
  /** True while many small files may be synced together. */
  syncsAtOnce: boolean;
}

export interface DestinationMemory {
  know(destination: Destination): Promise<KnownDestination>;
}

export function createDestinationMemory(): DestinationMemory {
  const known = new Map<string, KnownDestination>();
  return {
    know: async (destination) => {
      // Mounted anew it may be another device, and nothing that was found out about the first need hold.
      const { dev } = await fileCalls.stat(destination.root);
      const key = `${destination.id} ${destination.root} ${dev}`;
      // Each time: an idle destination's private folder may have been deleted meanwhile.
      const stagingFolder = await openStagingFolder(destination.root);
      const found = known.get(key) ?? (await getToKnow(destination, stagingFolder));
      known.set(key, found);
      return found;
    },
  };
}

async function getToKnow({ root }: Destination, stagingFolder: string): Promise<KnownDestination> {
  const ledgers = new Map<string, LedgerReader>();
  const isLocal = await isOnLocalDisk(root);
  return {
    nameFit: await probeNameFit(stagingFolder),
    stagingFolder,
    ledger: (rollId) => {
      const reader = ledgers.get(rollId) ?? createLedgerReader(root, rollId);
      ledgers.set(rollId, reader);
      return reader;
    },
    placing: createGate(1),
    hasLinks: true,
    calls: isLocal ? promptCalls : fileCalls,
    isPrompt: isLocal,
    device: (await fileCalls.stat(root)).dev,
    syncer: createFileSystemSyncer(stagingFolder),
    syncsAtOnce: isLocal,
  };
}
