import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { type KeptProcess, keepRunning } from './keep-running.ts';

let folder: string;
let said: string[];
let lines: string[];
const kept: KeptProcess[] = [];
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'quayside-keep-'));
  said = [];
  lines = [];
});
afterEach(async () => {
  for (const one of kept.splice(0)) one.kill();
  await rm(folder, { recursive: true });
});

const READY = `process.send({ ready: true }); process.on('disconnect', () => process.exit(0));`;

async function keep(
  script: string,
  {
    graceMs = 5_000,
    pauses = { firstMs: 10, longestMs: 40, calmMs: 30_000 },
    redis = Promise.resolve('/run/redis.sock'),
  } = {},
): Promise<KeptProcess> {
  const module = join(folder, 'child.mjs');
  await writeFile(
    module,
    `import { appendFileSync } from 'node:fs'; const note = (text) => appendFileSync(${JSON.stringify(join(folder, 'notes'))}, text + '\\n');\n${script}`,
  );
  const reports = { say: (sentence: string) => said.push(sentence), line: (line: string) => lines.push(line) };
  const one = keepRunning(
    { name: 'worker', module, args: ['--config', 'x'], execArgv: [], env: process.env, redis, graceMs },
    reports,
    pauses,
  );
  kept.push(one);
  return one;
}

async function until(holds: () => boolean | Promise<boolean>): Promise<void> {
  while (!(await holds())) await pause(10);
}

const notes = async (): Promise<string[]> =>
  (await readFile(join(folder, 'notes'), 'utf8').catch(() => '')).split('\n').filter(Boolean);

it('starts a process again each time it dies, and tells each crash in one sentence', async () => {
  const one = await keep(`note('start'); ${READY} setInterval(() => {}, 1000);`);
  await one.ready;
  const first = one.pid();
  process.kill(first ?? 0, 'SIGKILL');
  await until(() => one.pid() !== null && one.pid() !== first);
  expect(said).toEqual(['The worker ended unexpectedly (SIGKILL); it is started again in 0.01 s.']);
  await until(async () => (await notes()).length === 2);
});

it('tells a process where Redis answers as soon as that is known, and again at each start', async () => {
  const { promise: redis, resolve } = Promise.withResolvers<string>();
  const one = await keep(`process.on('message', ({ redis }) => note(redis)); note('started'); ${READY}`, { redis });
  await one.ready;
  expect(await notes()).toEqual(['started']);
  resolve('/run/redis.sock');
  await until(async () => (await notes()).length === 2);
  process.kill(one.pid() ?? 0, 'SIGKILL');
  await until(async () => (await notes()).length === 4);
  expect(await notes()).toEqual(['started', '/run/redis.sock', 'started', '/run/redis.sock']);
});

it('waits longer from crash to crash, up to a limit', async () => {
  await keep('process.exit(3);');
  await until(() => said.length >= 5);
  const pauses = said.map((sentence) => /exit code 3\); it is started again in ([\d.]+) s/.exec(sentence)?.[1]);
  expect(pauses.slice(0, 5)).toEqual(['0.01', '0.02', '0.04', '0.04', '0.04']);
});

it('begins with the short pause again after a calm time', async () => {
  await keep('setTimeout(() => process.exit(3), 30);', { pauses: { firstMs: 10, longestMs: 40, calmMs: 1 } });
  await until(() => said.length >= 3);
  expect(said.every((sentence) => sentence.includes('in 0.01 s'))).toBe(true);
});

it('tells a module that is not there like any other crash', async () => {
  const one = keepRunning(
    {
      name: 'API',
      module: join(folder, 'none.mjs'),
      args: [],
      execArgv: [],
      env: process.env,
      redis: Promise.resolve(''),
      graceMs: 1,
    },
    { say: (sentence) => said.push(sentence), line: () => undefined },
  );
  kept.push(one);
  await until(() => said.length > 0);
  expect(said[0]).toMatch(/^The API ended unexpectedly \(exit code 1\)/);
});

it('hands over whole lines, however they were written', async () => {
  const one = await keep(
    `${READY} process.stdout.write('{"a":'); setTimeout(() => process.stdout.write('1}\\n{"b":2}\\n'), 20);`,
  );
  await one.ready;
  await until(() => lines.length === 2);
  expect(lines).toEqual(['{"a":1}', '{"b":2}']);
});

it('lets a process end in peace, and does not start it again', async () => {
  const one = await keep(
    `process.on('SIGTERM', () => setTimeout(() => { note('done'); process.exit(0); }, 50)); ${READY} setInterval(() => {}, 1000);`,
  );
  await one.ready;
  await one.stop();
  expect(await notes()).toEqual(['done']);
  await pause(50);
  expect(one.pid()).toBeNull();
  expect(said).toEqual([]);
});

it('kills a process that does not end in its grace', async () => {
  const one = await keep(`process.on('SIGTERM', () => note('ignored')); ${READY} setInterval(() => {}, 1000);`, {
    graceMs: 100,
  });
  await one.ready;
  await one.stop();
  expect(await notes()).toEqual(['ignored']);
  expect(said).toEqual([expect.stringContaining('did not end within 0.1 s')]);
});

it('stops also between two starts', async () => {
  const one = await keep('process.exit(3);', { pauses: { firstMs: 60_000, longestMs: 60_000, calmMs: 1 } });
  await until(() => said.length === 1);
  await one.stop();
  expect(one.pid()).toBeNull();
});
