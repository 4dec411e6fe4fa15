import { execFileSync } from 'node:child_process';
import { readFile, rm, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { readLedger } from '../ledger/read-ledger.ts';
import { restoreLedger } from '../ledger/restore-ledger.ts';
import {
  calmControls,
  copyHere,
  destinationAt,
  readBackHere,
  ROLL,
  temporaryFolder,
  writeTree,
} from '../media-files.test-support.ts';
import { startMover } from '../mover/start-mover.ts';

const FILES = { 'a.mov': 700_000, 'b.xml': 900 };
const PATHS = Object.keys(FILES);

it('what was proven before a moment is read again, what was proven after it is not, and without a moment nothing is', async () => {
  await using folder = await temporaryFolder();
  const source = join(folder.path, 'drive');
  await writeTree(source, FILES);
  const destination = await destinationAt(join(folder.path, 'one'));
  await copyHere({ source, destinations: [destination] });
  await readBackHere(destination, PATHS);
  const verifiedAt = async (): Promise<readonly (string | undefined)[]> => {
    const { files } = await readLedger(destination.root, ROLL.id);
    return PATHS.map((path) => files.get(path)?.verifiedAt);
  };
  const first = await verifiedAt();
  const request = { roll: ROLL, paths: PATHS, destination };
  const mover = startMover();
  try {
    await mover.readBack(request, calmControls());
    expect(await verifiedAt()).toEqual(first);
    const since = new Date().toISOString();
    await mover.readBack({ ...request, paths: ['b.xml'], notSince: since }, calmControls());
    const [a, b = ''] = await verifiedAt();
    expect([a, b >= since]).toEqual([first[0], true]);
    await mover.readBack({ ...request, notSince: since }, calmControls());
    const [againA = '', againB] = await verifiedAt();
    expect([againA >= since, againB]).toEqual([true, b]);
  } finally {
    await mover.close();
  }
});

it('what a clock that was ahead called proven is read again all the same', async () => {
  await using folder = await temporaryFolder();
  const source = join(folder.path, 'drive');
  await writeTree(source, FILES);
  const destination = await destinationAt(join(folder.path, 'one'));
  await copyHere({ source, destinations: [destination] });
  await readBackHere(destination, PATHS);
  const ledger = join(destination.root, '.quayside/ledger', `${ROLL.id}.jsonl`);
  const lines = (await readFile(ledger, 'utf8')).replaceAll(/"at":"\d{4}/g, '"at":"2099');
  await writeFile(ledger, lines);
  const mover = startMover();
  try {
    const since = new Date().toISOString();
    await mover.readBack({ roll: ROLL, paths: PATHS, destination, notSince: since }, calmControls());
    const { files } = await readLedger(destination.root, ROLL.id);
    for (const path of PATHS) {
      const { verifiedAt = '' } = files.get(path) ?? {};
      expect(verifiedAt >= since && verifiedAt <= new Date().toISOString()).toBe(true);
    }
  } finally {
    await mover.close();
  }
});

it('files that a deleted ledger knew are entered as proven from elsewhere, and those it knows are left alone', async () => {
  await using folder = await temporaryFolder();
  const source = join(folder.path, 'drive');
  await writeTree(source, FILES);
  const destination = await destinationAt(join(folder.path, 'one'));
  await copyHere({ source, destinations: [destination], algorithms: ['md5'] });
  await readBackHere(destination, PATHS);
  const { files: before } = await readLedger(destination.root, ROLL.id);
  await rm(join(destination.root, '.quayside/ledger'), { recursive: true });

  const proven = await Promise.all(
    PATHS.map(async (path) => {
      const stored = join(destination.root, ROLL.folder, path);
      const { size, mtimeMs, ctimeMs } = await stat(stored);
      // GNU md5sum, not ours.
      const [md5 = ''] = execFileSync('md5sum', [stored], { encoding: 'utf8' }).split(' ');
      const times = { storedTimes: { modifiedMs: mtimeMs, changedMs: ctimeMs } };
      return {
        path,
        storedPath: path,
        sizeInBytes: size,
        modifiedMs: 1000,
        digests: { md5 },
        method: 'direct' as const,
        ...times,
      };
    }),
  );
  const at = '2026-11-25T10:00:00.000Z';
  await restoreLedger(destination.root, ROLL.id, { files: proven, at });
  const { files: restored } = await readLedger(destination.root, ROLL.id);
  for (const path of PATHS)
    expect(restored.get(path)).toEqual({ ...before.get(path), modifiedMs: 1000, verifiedAt: at, method: 'direct' });
  await restoreLedger(destination.root, ROLL.id, { files: proven, at: '2026-11-26T10:00:00.000Z' });
  expect((await readLedger(destination.root, ROLL.id)).files).toEqual(restored);
});
