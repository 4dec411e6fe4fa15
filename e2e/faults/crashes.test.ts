import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { canUseBay } from '../bay/can-use-bay.ts';
import type { ShownRoll } from '../service/start-service.ts';
import { lookAtCopies } from '../torture/truth/look-at-copies.ts';
import { whatIsLacking } from '../torture/truth/what-is-lacking.ts';
import { FaultStudio } from './fault-studio.test-support.ts';

const ability = await canUseBay();

describe.skipIf(!ability.ok)(
  `crashes${ability.ok ? '' : ` (skipped: ${ability.reason})`}`,
  { timeout: 240_000 },
  () => {
    let faults: FaultStudio;
    beforeAll(async () => {
      faults = await FaultStudio.open();
    }, 240_000);
    afterEach(() => faults.clearAway());
    afterAll(() => faults[Symbol.asyncDispose]());

    it('a power cut in the middle, with all that was not flushed, loses no record and nothing that was clear', async () => {
      const hands = await faults.plugIn('hands', { clipMebibytes: 8, pace: null });
      const cleared = await faults.untilClear(hands);
      const wheel = await faults.plugIn('wheel', { clipMebibytes: 40, pace: 6 * 2 ** 20 });
      const kiln = await faults.plugIn('kiln', { clipMebibytes: 8, pace: null });
      // Something of one roll is proven and nothing of it is sealed yet, or just so; another one is in the middle of its clip.
      const rolls = [await faults.untilDone(kiln, 0.6), await faults.untilDone(wheel, 0.05)];
      const proven = [];
      for (const roll of rolls) proven.push({ roll, copies: await provenCopies(roll) });
      await faults.studio.cutPower();
      for (const drive of [hands, wheel, kiln]) await drive.pull();
      await faults.studio.restorePower();
      expect(proven.flatMap(({ copies }) => copies)).not.toEqual([]);
      for (const { roll, copies } of proven) {
        for (const { path, destination } of copies)
          expect(await ledgerAt(destination, roll.id)).toContainEqual(
            expect.objectContaining({ kind: 'verified', path }),
          );
      }
      const looked = [];
      for (const destination of faults.studio.destinations) looked.push(await lookAtCopies(cleared, destination));
      expect(whatIsLacking(hands.footage, looked)).toEqual([]);
      await faults.service.run();
      for (const drive of [wheel, kiln]) await drive.insert(faults.slot());
      for (const drive of [wheel, kiln]) await faults.untilClear(drive);
    });

    it('a power cut in the moment of the verdict leaves everything that the verdict spoke of', async () => {
      const wheel = await faults.plugIn('wheel', { clipMebibytes: 8, pace: null });
      const roll = await faults.until(wheel, 'is clear', ({ clearance }) => clearance.verdict === 'clear');
      await faults.studio.cutPower();
      await wheel.pull();
      await faults.studio.restorePower();
      const looked = [];
      for (const destination of faults.studio.destinations) looked.push(await lookAtCopies(roll, destination));
      expect(whatIsLacking(wheel.footage, looked)).toEqual([]);
      await faults.service.run();
    });

    it('kill -9 of a mover, the worker, the watcher and the API, one after the other in one roll', async () => {
      const wheel = await faults.plugIn('wheel', { clipMebibytes: 40 });
      await faults.untilDone(wheel, 0.05);
      for (const name of ['movers', 'worker', 'watcher', 'API']) {
        const found = await faults.service.until(`${name} runs`, async () => {
          const [one] = (await faults.service.processes()).filter((process) => process.name === name);
          return one ?? null;
        });
        process.kill(found.pid, 'SIGKILL');
      }
      await faults.untilClear(wheel);
    });

    interface CopyRow {
      readonly path: string;
      readonly destination: string;
      readonly copy: { readonly state: string };
    }

    async function provenCopies(roll: ShownRoll): Promise<readonly CopyRow[]> {
      const { copies } = await faults.service.get<{ copies: readonly CopyRow[] }>(`/v1/rolls/${roll.id}/copies`);
      return copies.filter(({ copy }) => copy.state === 'verified');
    }

    async function ledgerAt(name: string, rollId: string): Promise<readonly unknown[]> {
      const path = join(faults.destination(name).root, '.quayside/ledger', `${rollId}.jsonl`);
      return (await readFile(path, 'utf8'))
        .split('\n')
        .filter((line) => line !== '')
        .map((line): unknown => JSON.parse(line));
    }
  },
);
