import { readdir, readFile, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { PauseSwitch } from './run/pause-switch.ts';
import { Studio } from './studio.test-support.ts';

let studio: Studio;
beforeAll(async () => {
  studio = await Studio.open();
});
afterAll(() => studio.close());

const LIMITS = { memoryMb: 256, programsMb: 1024, outputMb: 10, parallel: 1 };
/** A step whose program counts up in a file, of which its log tells, until it is a hundred. */
const COUNTS = `
  const { spawn } = await import('node:child_process');
  const file = scratchFolder + '/count';
  const count = 'i=0; while [ $i -lt 100 ]; do i=$((i+1)); echo $i > "$0"; sleep 0.02; done';
  const child = spawn('/bin/sh', ['-c', count, file], { stdio: 'ignore' });
  log.info(file);
  await new Promise((resolve) => child.on('close', resolve));
  return fs.readFileSync(file, 'utf8').trim();`;

/** Says how many runs are under way that it holds up: processes take their time to start. */
class WatchedSwitch extends PauseSwitch {
  watchers = 0;

  override watch(tell: (isOn: boolean) => void): () => void {
    this.watchers += 1;
    return super.watch(tell);
  }
}

async function until<Value>(look: () => Promise<Value | null>): Promise<Value> {
  for (;;) {
    const found = await look();
    if (found !== null) return found;
    await wait(20);
  }
}

async function countIn(work: string): Promise<string | null> {
  const names = await readdir(work, { recursive: true }).catch(() => []);
  const name = names.find((one) => one.endsWith('/count'));
  return name === undefined ? null : join(work, name);
}

it('a run that is held up stands still with the programs that it started, and then goes on to its end', async () => {
  const pause = new PauseSwitch();
  const limits = { ...LIMITS, seconds: 20 };
  const run = studio.run(COUNTS, { plugin: 'counts', grants: ['child-processes'], limits, pause });
  const file = await until(() => countIn(join(studio.folder, 'work')));
  await until(async () => ((await stat(file)).size > 0 ? true : null));
  pause.turn(true);
  // What was under way when the signal came is over by then.
  await wait(200);
  const held = await readFile(file, 'utf8');
  await wait(600);
  expect(await readFile(file, 'utf8')).toBe(held);
  expect(Number(held)).toBeLessThan(100);
  pause.turn(false);
  const { heldUpMs, ...outcome } = await run;
  expect(outcome).toMatchObject({ state: 'done', output: '100' });
  expect(heldUpMs).toBeGreaterThan(700);
});

it('time that it is held up does not count towards its limit, and held up it can still be stopped', async () => {
  const pause = new WatchedSwitch();
  pause.turn(true);
  const stopping = new AbortController();
  const limits = { ...LIMITS, seconds: 1 };
  const held = studio.run("return 'well';", { plugin: 'good', limits, pause });
  const cancelled = studio.run('await new Promise(() => {});', { plugin: 'waits', pause, signal: stopping.signal });
  await until(async () => (pause.watchers === 2 ? true : null));
  await wait(1500);
  pause.turn(false);
  const { heldUpMs, ...outcome } = await held;
  expect(outcome).toMatchObject({ state: 'done', output: 'well' });
  expect(heldUpMs).toBeGreaterThan(limits.seconds * 1000);
  pause.turn(true);
  stopping.abort();
  expect(await cancelled).toMatchObject({ state: 'cancelled' });
});
