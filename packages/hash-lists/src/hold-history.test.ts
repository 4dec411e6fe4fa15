import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { hostname } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { generationOf, inventedFile, newRoll } from './hash-lists.test-support.ts';
import { holdHistory } from './hold-history.ts';
import { readHistory } from './read-history.ts';
import { writeGeneration } from './write-generation.ts';

const CHILD = fileURLToPath(new URL('hold-history-child.test-support.ts', import.meta.url));
const EACH = 12;

it(
  'two processes that write to one history at the same time never give two generations one number',
  { timeout: 60_000 },
  async () => {
    await using roll = await newRoll();
    const writers = ['one', 'other'].map((name) =>
      spawn(process.execPath, ['--conditions=source', CHILD, roll.root, name, String(EACH)], { stdio: 'inherit' }),
    );
    const codes = await Promise.all(writers.map(async (writer) => (await once(writer, 'exit'))[0]));
    expect(codes).toEqual([0, 0]);

    const { generations, faults, files } = await readHistory(roll.root);
    expect(faults).toEqual([]);
    expect(generations.map(({ number }) => number)).toEqual(Array.from({ length: 2 * EACH }, (_, index) => index + 1));
    expect(files.size).toBe(2 * EACH);
    // By the names alone, without our reader: each number once.
    const names = (await readdir(roll.history)).filter((name) => name.endsWith('.mhl'));
    expect(new Set(names.map((name) => name.slice(0, 4))).size).toBe(2 * EACH);
    expect((await readdir(roll.history)).filter((name) => name.endsWith('.claim'))).toEqual([]);
  },
);

it('work of one process on one folder goes one after the other', async () => {
  await using roll = await newRoll();
  await mkdir(roll.history);
  let inside = 0;
  const most: number[] = [];
  const work = async (): Promise<void> => {
    most.push((inside += 1));
    await readFile(CHILD);
    inside -= 1;
  };
  await Promise.all(Array.from({ length: 5 }, () => holdHistory(roll.history, work)));
  expect(most).toEqual([1, 1, 1, 1, 1]);
});

const boot = await readFile('/proc/sys/kernel/random/boot_id', 'utf8').then(
  (text) => text.replaceAll(/[^0-9a-f]/g, ''),
  () => '',
);
const ended = spawn(process.execPath, ['-e', '']);
await once(ended, 'exit');

it.each([
  ['of a process that has ended', `${hostname()}-${boot}-${ended.pid}-1`],
  ['of an earlier process with the id of one that is there', `${hostname()}-${boot}-${process.ppid}-1`],
  ['of an earlier process with our own id', `${hostname()}-${boot}-${process.pid}-1`],
  ['of before the machine was started anew', `${hostname()}-0123abcd-${process.ppid}-1`],
])('a claim %s keeps nobody waiting, and is removed', async (_, owner) => {
  await using roll = await newRoll();
  await mkdir(roll.history);
  const left = `.writing-${owner}-0badcafe.claim`;
  await writeFile(join(roll.history, left), '');
  const written = await writeGeneration(roll.root, generationOf([await inventedFile('a.mov')]));
  expect(written.generation).toBe(1);
  expect(await readdir(roll.history)).not.toContain(left);
});

it('a claim of another host stands while it is young', async () => {
  await using roll = await newRoll();
  await mkdir(roll.history);
  const claim = join(roll.history, '.writing-another-studio-0123abcd-1-1-0badcafe.claim');
  await writeFile(claim, '');
  let hasWaited = false;
  const releasing = (async (): Promise<void> => {
    await wait(300);
    hasWaited = true;
    await rm(claim);
  })();
  await holdHistory(roll.history, async () => expect(hasWaited).toBe(true));
  await releasing;
});

it('what is refused leaves no history behind', async () => {
  await using roll = await newRoll();
  await expect(writeGeneration(roll.root, generationOf([]))).rejects.toMatchObject({ code: 'MANIFEST_CONTENT' });
  expect(await readdir(roll.root)).toEqual([]);
});
