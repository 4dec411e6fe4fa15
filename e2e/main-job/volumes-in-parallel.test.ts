import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { canMountDrives } from '../drives/can-mount-drives.ts';
import { Studio } from './studio.test-support.ts';

const ability = await canMountDrives();

/** Each above the limit of a parcel, so that each is copied by a run of its own. Not in the order of their making. */
const FILES = { 'CLIPS/c.bin': 65 * 2 ** 20, 'CLIPS/a.bin': 65 * 2 ** 20, 'CLIPS/b.bin': 65 * 2 ** 20 };

interface Written {
  readonly path: string;
  readonly atMs: number;
}

it.skipIf(!ability.ok)(
  `two drives are copied at the same time, the files of each in their order${ability.ok ? '' : ` (skipped: ${ability.reason})`}`,
  async () => {
    await using studio = await Studio.open();
    for (const recorder of ['wheel', 'hands']) await studio.record({ recorder, files: FILES });
    await studio.addDestination('primary');
    await studio.addDestination('backup');
    await Promise.all(['wheel', 'hands'].map((recorder) => studio.plug(recorder)));
    const destinations = ['primary', 'backup'].map((name) => ({
      name,
      path: studio.destination(name),
      keepFreeBytes: 0,
      parallel: 4,
    }));
    await studio.start({ destinations });
    const rolls = await studio.service.verdicts(2);
    for (const name of ['primary', 'backup']) {
      const [wheel, hands] = await Promise.all(
        ['wheel', 'hands'].map((recorder) => writtenAt(studio.destination(name), rolls.get(recorder)?.id ?? '')),
      );
      for (const one of [wheel, hands]) {
        expect(one?.map(({ path }) => path)).toEqual(['CLIPS/a.bin', 'CLIPS/b.bin', 'CLIPS/c.bin']);
        // Written one after the other, also by the clock.
        expect(one?.map(({ atMs }) => atMs)).toEqual(one?.map(({ atMs }) => atMs).toSorted((a, b) => a - b));
      }
      // One after the other, the last file of the first drive would lie before the first file of the second.
      expect(wheel?.at(0)?.atMs).toBeLessThan(hands?.at(-1)?.atMs ?? 0);
      expect(hands?.at(0)?.atMs).toBeLessThan(wheel?.at(-1)?.atMs ?? 0);
    }
  },
  240_000,
);

/** The files as the ledger at a destination says when each was whole and synced there. */
async function writtenAt(root: string, rollId: string): Promise<readonly Written[]> {
  const text = await readFile(join(root, '.quayside', 'ledger', `${rollId}.jsonl`), 'utf8');
  return text
    .split('\n')
    .filter((line) => line !== '')
    .map((line): { readonly kind: string; readonly path: string; readonly at: string } => JSON.parse(line))
    .filter(({ kind }) => kind === 'written')
    .map(({ path, at }) => ({ path, atMs: Date.parse(at) }));
}
