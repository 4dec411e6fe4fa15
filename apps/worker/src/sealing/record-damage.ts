import { hostname } from 'node:os';
import { actionsFor, type History, type NewFile, readHistory, writeGeneration } from '@quayside/hash-lists';
import type { LedgerDamage, LedgerView } from '@quayside/media-files';
import { HashAlgorithm, VERSION } from '@quayside/shoot';
import { generationTime } from './generation-time.ts';

/**
 * Adds a generation for stored files that were read since the history was written and found to be other than it says, with
 * what was found: the standard's `failed`. A file that the history does not know yet cannot have failed in it. Gives the
 * history as it is then; one that has faults is left alone.
 */
export async function recordDamage(rollRoot: string, ledger: LedgerView, history: History): Promise<History> {
  if (history.faults.length > 0) return history;
  const damaged = [...ledger.files.values()].flatMap(({ damage }) =>
    damage !== undefined && isNews(damage, history) ? [damage] : [],
  );
  const files = damaged.flatMap((damage) => failedFile(damage, history));
  if (files.length === 0) return history;
  await writeGeneration(rollRoot, {
    // Of the finding, not of now: what is proven after it counts again.
    startedAt: new Date(Math.max(...damaged.map(({ at }) => Date.parse(at)))).toISOString(),
    process: 'in-place',
    creator: {
      hostname: hostname(),
      tool: 'Quayside',
      toolVersion: VERSION,
      comment: 'These copies were read back and found changed; they are set aside.',
    },
    ignore: [],
    files,
    complete: false,
  });
  return readHistory(rollRoot);
}

function isNews({ at, storedPath }: LedgerDamage, history: History): boolean {
  const recorded = history.files.get(storedPath);
  return recorded !== undefined && Date.parse(at) > generationTime(history, recorded.lastGeneration);
}

function failedFile({ storedPath, found }: LedgerDamage, history: History): readonly NewFile[] {
  const comparable = history.files.get(storedPath)?.hashes ?? new Map();
  if (!HashAlgorithm.options.some((name) => found.digests[name] !== undefined && comparable.has(name))) return [];
  const actions = actionsFor(history, storedPath, found.digests);
  const hashes = HashAlgorithm.options.flatMap((algorithm) => {
    const [value, action] = [found.digests[algorithm], actions[algorithm]];
    return value === undefined || action === undefined ? [] : [{ algorithm, value, action }];
  });
  return hashes.some(({ action }) => action === 'failed')
    ? [{ path: storedPath, sizeInBytes: found.sizeInBytes, modifiedMs: found.modifiedMs, hashes }]
    : [];
}
