import { rm, truncate, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { createPace } from '../direct-io/pace.ts';
import { readLedger } from '../ledger/read-ledger.ts';
import {
  calmControls,
  copyHere,
  destinationAt,
  ROLL,
  temporaryFolder,
  type TestFolder,
  writeTree,
} from '../media-files.test-support.ts';
import { createWorkbench } from '../workbench/workbench.ts';
import type { StoredCopy } from './read-back-copy.ts';
import { readBackPromptly } from './read-back-promptly.ts';

const NAMES = Array.from({ length: 2000 }, (_, index) => `${String(index).padStart(4, '0')}.xml`);

describe('reading many small copies back on one thread', () => {
  let folder: TestFolder;
  let copies: StoredCopy[];

  beforeAll(async () => {
    folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, Object.fromEntries(NAMES.map((name, index) => [name, index])));
    const destination = await destinationAt(join(folder.path, 'one'));
    await copyHere({ source, destinations: [destination] });
    const { files } = await readLedger(destination.root, ROLL.id);
    copies = [...files].map(([path, record]) => ({
      path,
      record,
      rollId: ROLL.id,
      rollFolder: ROLL.folder,
      destination,
      isDoubted: false,
    }));
    return () => folder[Symbol.asyncDispose]();
  });

  const stored = (name: string): string => join(folder.path, 'one', ROLL.folder, name);

  const run = async (controls = calmControls()): Promise<{ proven: string[]; left: string[] }> => {
    const proven: string[] = [];
    const left = await readBackPromptly(copies, {
      ...controls,
      workbench: createWorkbench(),
      // However slow this machine is, it is the one thread that must hear.
      pace: createPace(Number.POSITIVE_INFINITY),
      onProven: ({ outcome }) => proven.push(outcome.path),
    });
    return { proven, left: left.map(({ path }) => path) };
  };

  it('hears between one and the next that it shall stop', async () => {
    const stopping = new AbortController();
    let count = 0;
    // An order comes with the event loop, which stands still while this thread reads.
    const onBytes = (): void => {
      count += 1;
      setImmediate(() => stopping.abort(new Error('told to stop')));
    };
    await expect(run({ ...calmControls(), signal: stopping.signal, onBytes })).rejects.toThrow('told to stop');
    expect(count).toBeGreaterThan(0);
    expect(count).toBeLessThan(NAMES.length);
  });

  it('proves all that are what they should be, counts their bytes, and leaves every other to the thorough way', async () => {
    await writeFile(stored('0700.xml'), 'x'.repeat(700));
    await rm(stored('0800.xml'));
    await truncate(stored('0900.xml'), 899);
    const controls = calmControls();
    const { proven, left } = await run(controls);
    const odd = ['0700.xml', '0800.xml', '0900.xml'];
    expect(left).toEqual(odd);
    expect(proven).toEqual(NAMES.filter((name) => !odd.includes(name)));
    expect(controls.moved).toBe((NAMES.length * (NAMES.length - 1)) / 2 - 700 - 800 - 900);
  });
});
