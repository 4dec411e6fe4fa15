import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { canUseBay } from '../bay/can-use-bay.ts';
import { runTool } from '../drives/run-tool.ts';
import { FaultStudio } from './fault-studio.test-support.ts';

const ability = await canUseBay();

// In each of them a drive was cleared before, and another one is being copied when it happens. Nobody has to do anything.
describe.skipIf(!ability.ok)(`Redis${ability.ok ? '' : ` (skipped: ${ability.reason})`}`, { timeout: 300_000 }, () => {
  let faults: FaultStudio;
  beforeAll(async () => {
    faults = await FaultStudio.open();
  }, 240_000);
  afterEach(() => faults.clearAway());
  afterAll(() => faults[Symbol.asyncDispose]());

  it('that is killed and started again', async () => {
    const wheel = await inTheMiddle();
    await signal('SIGKILL');
    await faults.untilClear(wheel);
  });

  it('that does not answer for a minute', async () => {
    const wheel = await inTheMiddle();
    await signal('SIGSTOP');
    await wait(60_000);
    await signal('SIGCONT');
    await faults.untilClear(wheel);
  });

  it('that is emptied by FLUSHALL: the rolls of before are known again', async () => {
    const hands = await faults.plugIn('hands', { clipMebibytes: 8, pace: null });
    const { id } = await faults.untilClear(hands);
    await hands.pull();
    const wheel = await inTheMiddle();
    await ask('FLUSHALL');
    await faults.untilClear(wheel);
    const again = await faults.until(hands, 'is known again', (roll) => roll.id === id);
    // A verdict is never read from a record: without its drive nobody can say what is on it.
    expect(again.clearance).toMatchObject({ verdict: 'hold', reasons: [{ code: 'VOLUME_AWAY' }] });
  });

  it('whose files are deleted', async () => {
    const wheel = await inTheMiddle();
    await Promise.all([rm(join(faults.service.data, 'redis'), { recursive: true, force: true }), signal('SIGKILL')]);
    await faults.untilClear(wheel);
  });

  it('that is lost together with the whole service: all is known again from what lies beside the footage', async () => {
    const wheel = await inTheMiddle();
    const before = await faults.rollOf(wheel);
    await faults.service.kill();
    await rm(join(faults.service.data, 'redis'), { recursive: true });
    await faults.service.run();
    expect((await faults.untilClear(wheel)).id).toBe(before?.id);
  });

  it('that has no memory left, and refuses what it is given, for ten seconds', async () => {
    const wheel = await inTheMiddle();
    await ask('CONFIG', 'SET', 'maxmemory', '1');
    await wait(10_000);
    await ask('CONFIG', 'SET', 'maxmemory', '0');
    await faults.untilClear(wheel);
  });

  async function inTheMiddle(): ReturnType<FaultStudio['plugIn']> {
    const wheel = await faults.plugIn('wheel', { clipMebibytes: 24 });
    await faults.untilDone(wheel, 0.05);
    return wheel;
  }

  async function signal(name: NodeJS.Signals): Promise<void> {
    for (const one of await faults.service.processes()) if (one.name === 'Redis') process.kill(one.pid, name);
  }

  async function ask(...words: readonly string[]): Promise<void> {
    await runTool('redis-cli', '-e', '-s', join(faults.service.data, 'redis.sock'), ...words);
  }
});
