import { execFile, execFileSync } from 'node:child_process';
import { cp, readdir, readFile, rename, rm, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { describe, expect, it } from 'vitest';
import { generationOf, has, inventedFile, newRoll } from './hash-lists.test-support.ts';
import { STAGED_CHAIN_NAME } from './load-chain.ts';
import { CHAIN_NAME } from './manifest.ts';
import { readHistory } from './read-history.ts';
import { writeGeneration } from './write-generation.ts';

const run = promisify(execFile);
const CHILD = fileURLToPath(new URL('crash-child.test-support.ts', import.meta.url));
const FIRST = '2026-03-05T18:00:00.000Z';
const SECOND = '2026-03-06T18:00:00.000Z';
const THIRD = '2026-03-07T18:00:00.000Z';

async function write(root: string, path: string, startedAt: string): ReturnType<typeof writeGeneration> {
  return writeGeneration(root, generationOf([await inventedFile(path)], { startedAt }));
}

async function codesOf(root: string): Promise<string[]> {
  return (await readHistory(root)).faults.map(({ code }) => code);
}

describe('after a crash between manifest and chain', () => {
  it('a first manifest without a chain is read, and entered by the next write', async () => {
    await using roll = await newRoll();
    const first = await write(roll.root, 'a.mov', FIRST);
    await rm(join(roll.history, CHAIN_NAME));
    expect(await codesOf(roll.root)).toEqual(['MANIFEST_UNCHAINED']);
    expect((await readHistory(roll.root)).files.has('a.mov')).toBe(true);

    expect(await write(roll.root, 'a.mov', FIRST)).toEqual({ ...first, isNew: false });
    expect(await codesOf(roll.root)).toEqual([]);
  });

  it('a second manifest outside the chain is entered also when the next write has other content', async () => {
    await using roll = await newRoll();
    await write(roll.root, 'a.mov', FIRST);
    await cp(join(roll.history, CHAIN_NAME), join(roll.root, 'older'));
    await write(roll.root, 'b.mov', SECOND);
    await rename(join(roll.root, 'older'), join(roll.history, CHAIN_NAME));
    expect(await codesOf(roll.root)).toEqual(['MANIFEST_UNCHAINED']);

    expect(await write(roll.root, 'c.mov', THIRD)).toMatchObject({ generation: 3, isNew: true });
    const { generations, faults, files } = await readHistory(roll.root);
    expect(faults).toEqual([]);
    expect(generations.map(({ number, isChained }) => [number, isChained])).toEqual([1, 2, 3].map((n) => [n, true]));
    expect([...files.keys()]).toEqual(['a.mov', 'b.mov', 'c.mov']);
  });

  it('a damaged manifest outside the chain is neither entered nor deleted, and the next write goes on', async () => {
    await using roll = await newRoll();
    await write(roll.root, 'a.mov', FIRST);
    const torn = '0002_wheel-1_2026-03-06_180000Z.mhl';
    await writeFile(join(roll.history, torn), '<hashlist version="2.0"');
    expect(await write(roll.root, 'c.mov', THIRD)).toMatchObject({ generation: 2, isNew: true });
    expect(await readdir(roll.history)).toContain(torn);
    expect(await codesOf(roll.root)).toEqual(['MANIFEST_UNCHAINED']);
  });

  it('a chain that is only staged counts, and is put in place by the next write', async () => {
    await using roll = await newRoll();
    await write(roll.root, 'a.mov', FIRST);
    await write(roll.root, 'b.mov', SECOND);
    await rename(join(roll.history, CHAIN_NAME), join(roll.history, STAGED_CHAIN_NAME));
    expect(await codesOf(roll.root)).toEqual(['CHAIN_UNFINISHED']);
    expect(await write(roll.root, 'b.mov', SECOND)).toMatchObject({ generation: 2, isNew: false });
    expect(await codesOf(roll.root)).toEqual([]);
    expect((await readdir(roll.history)).some((name) => name.endsWith('.part'))).toBe(false);
  });

  it('a manifest made by flattening may lie outside the chain, and is never entered', async () => {
    await using roll = await newRoll();
    await write(roll.root, 'a.mov', FIRST);
    const xml = `<hashlist xmlns="urn:ASC:MHL:v2.0" version="2.0"><processinfo><process>flatten</process></processinfo></hashlist>`;
    await writeFile(join(roll.history, '0002_packing_2026-03-06_180000Z.mhl'), xml);
    expect(await codesOf(roll.root)).toEqual([]);
    expect(await write(roll.root, 'b.mov', THIRD)).toMatchObject({ generation: 2 });
    expect((await readHistory(roll.root)).generations).toHaveLength(2);
  });
});

// The system calls that change the folder: strace kills the writing process on entry to the n-th call of one kind.
const CHANGES = ['mkdir', 'fsync', 'link', 'unlink', 'rename'] as const;

interface Step {
  readonly call: (typeof CHANGES)[number];
  readonly nth: number;
}

async function isKilledAt(
  { call, nth }: Step,
  ...writing: readonly [root: string, path: string, startedAt: string]
): Promise<boolean> {
  const kill = [
    '-f',
    '-qq',
    '-o',
    '/dev/null',
    '-e',
    `trace=${call}`,
    '-e',
    `inject=${call}:error=EIO:signal=KILL:when=${nth}`,
  ];
  // One thread for all file work, because strace counts calls by thread.
  const env = { ...process.env, UV_THREADPOOL_SIZE: '1' };
  try {
    await run('strace', [...kill, process.execPath, '--conditions=source', CHILD, ...writing], { env });
    return false;
  } catch {
    return true;
  }
}

function canTrace(): boolean {
  if (!has('strace')) return false;
  try {
    execFileSync('strace', ['-qq', '-o', '/dev/null', '-e', 'inject=fsync:error=EIO:when=1', 'true'], {
      stdio: 'ignore',
    });
    return true;
  } catch {
    return false;
  }
}

async function* stepsUntilDone(tryStep: (step: Step) => Promise<boolean>): AsyncGenerator<string> {
  for (const call of CHANGES) {
    for (let nth = 1; await tryStep({ call, nth }); nth += 1) yield `${call} ${nth}`;
  }
}

it.skipIf(!canTrace())(
  'what gets a name is synced before, and its folder after (skipped where strace cannot trace)',
  async () => {
    await using roll = await newRoll();
    const log = join(roll.root, 'trace');
    const options = ['-f', '-qq', '-y', '-o', log, '-e', `trace=${CHANGES.join()}`];
    const writing = [process.execPath, '--conditions=source', CHILD, roll.root, 'a.mov', FIRST];
    await run('strace', [...options, ...writing], { env: { ...process.env, UV_THREADPOOL_SIZE: '1' } });
    const calls = (await readFile(log, 'utf8')).matchAll(/(\w+)\((?:\d+<)?"?[^">]*\/([^">]*)[">]/g);
    const manifest = '.0001_wheel-1_2026-03-05_180000Z.mhl.part';
    expect([...calls].map(([, call, name]) => `${call} ${(name ?? '').endsWith('.claim') ? 'claim' : name}`)).toEqual([
      'mkdir ascmhl',
      'fsync wheel-1',
      `fsync ${manifest}`,
      `link ${manifest}`,
      `unlink ${manifest}`,
      'fsync ascmhl',
      `fsync ${STAGED_CHAIN_NAME}`,
      `rename ${STAGED_CHAIN_NAME}`,
      'fsync ascmhl',
      'unlink claim',
    ]);
  },
);

it.skipIf(!canTrace()).each([0, 1])(
  'killed at any step, with %i generations before, the history stays readable and the next write completes it (skipped where strace cannot trace)',
  { timeout: 240_000 },
  async (before) => {
    const [path, startedAt] = before === 0 ? (['a.mov', FIRST] as const) : (['b.mov', SECOND] as const);
    const killedAt: string[] = [];
    const steps = stepsUntilDone(async (step) => {
      await using roll = await newRoll();
      if (before === 1) await write(roll.root, 'a.mov', FIRST);
      const isKilled = await isKilledAt(step, roll.root, path, startedAt);

      const torn = await readHistory(roll.root);
      const harmless = ['MANIFEST_UNCHAINED', 'CHAIN_UNFINISHED'];
      expect(torn.faults.filter(({ code }) => !harmless.includes(code))).toEqual([]);
      expect(torn.files.size).toBeGreaterThanOrEqual(isKilled ? before : before + 1);

      expect((await write(roll.root, path, startedAt)).generation).toBe(before + 1);
      const whole = await readHistory(roll.root);
      expect(whole.faults).toEqual([]);
      expect(whole.files.size).toBe(before + 1);
      expect(await readdir(roll.history)).toHaveLength(before + 2);
      return isKilled;
    });
    for await (const step of steps) killedAt.push(step);
    const syncs = [1, 2, 3, 4, 5].map((nth) => `fsync ${nth}`);
    expect(killedAt).toEqual(['mkdir 1', ...syncs, 'link 1', 'unlink 1', 'unlink 2', 'rename 1']);
  },
);
