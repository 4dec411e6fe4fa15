import { applyRollEvent, askForShoot, wantedOfShoot } from '@quayside/job-queue';
import { factsState, type ListedRoll, type RollEvent } from '@quayside/pipeline';
import { QuaysideError, type RunRequest } from '@quayside/shoot';
import { defineStep, type Capabilities, type Step } from '@quayside/step-sdk/built-in';
import { expect, it } from 'vitest';
import { z } from 'zod';
import { ProgressMeter } from '../upkeep/progress-meter.ts';
import { mountAt, openWorkplace, type Workplace } from '../worker.test-support.ts';
import { makeRunHandler } from './run-handler.ts';

const NOW = '2026-11-26T10:00:00.000Z';
const SHOOT = '2026-11-25';
const ROLL = 'wheel-20261125-abc123';
const AWAY = { code: 'DESTINATION_MISSING', sentence: 'It is away.', retry: 'destination' } as const;

/** A shoot of which something is sealed and grouped, so that its records are wanted. Gives that run. */
async function shootThatWantsRecords({ store, queue, drive }: Workplace): Promise<RunRequest> {
  const roll: ListedRoll = {
    id: ROLL,
    shootId: SHOOT,
    recorder: 'wheel',
    role: 'camera',
    volume: {
      key: 'uuid-1a2b3c4d',
      basis: 'uuid',
      uuid: '1A2B-3C4D',
      serial: null,
      label: 'WHEEL',
      fileSystem: 'exfat',
      sizeInBytes: 1000,
    },
    mount: mountAt(drive),
    fingerprint: 'f1',
    litterCount: 0,
    facts: 'read',
    parcels: [{ firstPath: 'a.mov', fileCount: 1, sizeInBytes: 10 }],
    destinations: { primary: null },
    findings: [],
  };
  const sealed: RollEvent = { type: 'sealed', visit: 1, destination: 'primary', attempt: 0, generation: 1 };
  for (const event of [{ type: 'listed', roll } as const, sealed])
    await applyRollEvent({ store, queue }, ROLL, { event, now: NOW });
  await store.noteShootProgress(SHOOT, { grouped: factsState(await store.rollsOfShoot(SHOOT)) });
  const [run] = await wantedOfShoot(store, SHOOT);
  if (run?.step !== 'records') throw new Error('its records should be wanted');
  return run;
}

it('a run over a shoot that failed is left alone for some minutes, unless somebody asks for it', async () => {
  const workplace = await openWorkplace();
  const run = await shootThatWantsRecords(workplace);
  let tries = 0;
  const records = defineStep({
    name: 'records',
    scope: 'shoot',
    after: [],
    needs: [],
    config: z.object({}),
    input: z.object({ shootId: z.string() }),
    output: z.object({}),
    run: () => {
      tries += 1;
      throw new QuaysideError(AWAY);
    },
  });
  const handler = makeRunHandler({
    ...workplace,
    steps: new Map<string, Step>([['records', records]]),
    configOf: () => ({}),
    // The step of this test needs none of them.
    capabilities: {} as Capabilities,
    isAnswering: async () => true,
    meter: new ProgressMeter(workplace.store),
    log: () => undefined,
  });
  const make = (): Promise<void> => handler.run(run, new AbortController().signal);
  await expect(make()).rejects.toMatchObject({ code: AWAY.code });
  await handler.failed(run, AWAY);
  expect((await workplace.store.shootProgress(SHOOT)).failed).toEqual({ records: AWAY });
  await make();
  expect(tries).toBe(1);

  expect(await workplace.store.forgetShootFailure(SHOOT, 'records')).toBe(true);
  await askForShoot(workplace, SHOOT);
  await expect(make()).rejects.toMatchObject({ code: AWAY.code });
  expect(tries).toBe(2);
});
