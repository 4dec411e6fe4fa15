import { execFileSync, spawn } from 'node:child_process';
import { readdir, readFile, writeFile, truncate } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import type { CopyOutcome } from '@quayside/step-sdk/built-in';
import { describe, expect, it } from 'vitest';
import { listVolume } from '../listing/list-volume.ts';
import {
  calmControls,
  copyRequestFor,
  destinationAt,
  ROLL,
  temporaryFolder,
  writeTree,
} from '../media-files.test-support.ts';
import { createFootage } from './create-footage.ts';
import { startMover } from './start-mover.ts';

const MIB = 1024 * 1024;

function statesOf(outcomes: readonly CopyOutcome[]): string[] {
  return outcomes.map((outcome) => (outcome.state === 'written' ? 'written' : outcome.failure.code));
}

async function filesAt(root: string): Promise<string[]> {
  return (await listVolume(root, { litter: ['.quayside*'] })).files.map(({ path }) => path);
}

function isRunning(pid: number | undefined): boolean {
  try {
    return pid !== undefined && process.kill(pid, 0);
  } catch {
    return false;
  }
}

async function until(isSo: () => boolean | Promise<boolean>): Promise<void> {
  while (!(await isSo())) await sleep(20);
}

describe('a mover', () => {
  it('copies and reads back in its own process, and tells the bytes; names that are no UTF-8 cross unharmed', async () => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, { 'a.mov': 9 * MIB });
    await writeFile(Buffer.concat([Buffer.from(`${source}/`), Buffer.from([0xff, 0x0a])]), 'odd');
    const destination = await destinationAt(join(folder.path, 'one'));
    const mover = startMover();
    const controls = calmControls();
    const request = await copyRequestFor({ source, destinations: [destination] });
    const outcomes = await mover.copy(request, controls);
    expect(statesOf(outcomes)).toEqual(['written', 'written']);
    expect(controls.moved).toBe(9 * MIB + 3);
    const paths = request.files.map(({ path }) => path);
    expect((await mover.readBack({ roll: ROLL, paths, destination }, controls)).map(({ state }) => state)).toEqual([
      'verified',
      'verified',
    ]);
    expect(controls.moved).toBe(2 * (9 * MIB + 3));
    await mover.close();
    expect(isRunning(mover.pid)).toBe(false);
    await expect(mover.copy(request, controls)).rejects.toMatchObject({ code: 'MOVER_DIED', retry: 'later' });
  });

  it('a failure keeps its code and remedy on the way', async () => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, { 'a.mov': 10 });
    const request = await copyRequestFor({ source, destinations: [await destinationAt(join(folder.path, 'one'))] });
    const mover = startMover();
    const elsewhere = { ...request, mount: { ...request.mount, device: '0:12345' } };
    await expect(mover.copy(elsewhere, calmControls())).rejects.toMatchObject({ code: 'SOURCE_GONE', retry: 'source' });
    await mover.close();
  });

  // Promise 4, with a real kill.
  it('killed in the middle leaves nothing half-written under a final name, and another one finishes the work', async () => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, { 'a.mov': 100, 'b.mov': 100, 'c.mov': 100 });
    await truncate(join(source, 'b.mov'), 768 * MIB);
    const destinations = [
      await destinationAt(join(folder.path, 'one'), 'primary'),
      await destinationAt(join(folder.path, 'two'), 'backup'),
    ];
    const request = await copyRequestFor({ source, destinations });
    const mover = startMover();
    const copying = mover.copy(request, {
      signal: new AbortController().signal,
      onBytes: () => mover.kill(),
    });
    await expect(copying).rejects.toMatchObject({ code: 'MOVER_DIED', retry: 'later' });
    for (const { root } of destinations) {
      for (const path of await filesAt(root)) {
        const original = join(source, path.slice(ROLL.folder.length + 1));
        expect((await readFile(join(root, path))).equals(await readFile(original))).toBe(true);
      }
      const staged = await readdir(join(root, '.quayside/staging'), { recursive: true });
      expect(staged.some((name) => name.endsWith('.part'))).toBe(true);
    }
    const next = startMover();
    expect(statesOf(await next.copy(request, calmControls()))).toEqual(Array.from({ length: 6 }, () => 'written'));
    await next.close();
    for (const { root } of destinations) {
      expect(await filesAt(root)).toEqual(['a.mov', 'b.mov', 'c.mov'].map((name) => `${ROLL.folder}/${name}`));
      // GNU cmp is the independent witness.
      execFileSync('cmp', [join(source, 'b.mov'), join(root, ROLL.folder, 'b.mov')]);
      const staged = await readdir(join(root, '.quayside/staging'), { recursive: true });
      expect(staged.filter((name) => name.endsWith('.part'))).toEqual([]);
    }
  });

  it('told to stop, stops in order, leaves nothing staged but what it can go on with, and can do other work', async () => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, { 'a.mov': 1 });
    // Progress is told five times a second; this much (of zeros that lie on no disk) is under way for longer on any machine.
    await truncate(join(source, 'a.mov'), 2048 * MIB);
    const destination = await destinationAt(join(folder.path, 'one'));
    const request = await copyRequestFor({ source, destinations: [destination] });
    const mover = startMover();
    const stopping = new AbortController();
    await expect(
      mover.copy(request, { signal: stopping.signal, onBytes: () => stopping.abort() }),
    ).rejects.toMatchObject({
      code: 'WORK_STOPPED',
      retry: 'later',
    });
    expect(await filesAt(destination.root)).toEqual([]);
    const staged = await readdir(join(destination.root, '.quayside/staging'), { recursive: true });
    expect(staged.filter((name) => name.endsWith('.part') && !name.startsWith('interrupted/'))).toEqual([]);
    // A signal without events, as a plain object of the contract may be, is seen too.
    const plain = { aborted: false, throwIfAborted: () => undefined };
    await expect(
      mover.copy(request, { signal: plain, onBytes: () => void (plain.aborted = true) }),
    ).rejects.toMatchObject({
      code: 'WORK_STOPPED',
    });
    await truncate(join(source, 'a.mov'), 3 * MIB);
    const shorter = await copyRequestFor({ source, destinations: [destination] });
    expect(statesOf(await mover.copy(shorter, calmControls()))).toEqual(['written']);
    await mover.close();
  });

  it('that does not stop in time is killed', async () => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, { 'a.mov': 1 });
    await truncate(join(source, 'a.mov'), 2048 * MIB);
    const request = await copyRequestFor({ source, destinations: [await destinationAt(join(folder.path, 'one'))] });
    const mover = startMover({ graceMs: 50 });
    const stopping = new AbortController();
    const copying = mover.copy(request, {
      signal: stopping.signal,
      onBytes: () => {
        // A process that is stopped hears nothing, like one that hangs in the kernel.
        if (mover.pid !== undefined) process.kill(mover.pid, 'SIGSTOP');
        stopping.abort();
      },
    });
    await expect(copying).rejects.toMatchObject({ code: 'MOVER_DIED' });
    expect(mover.isAlive()).toBe(false);
    await until(() => !isRunning(mover.pid));
  });

  it('ends when its parent is killed', async () => {
    const program = `
      const { startMover } = await import(${JSON.stringify(new URL('./start-mover.ts', import.meta.url).href)});
      console.log(startMover().pid);
      setInterval(() => undefined, 1000);`;
    const parent = spawn(process.execPath, ['--conditions=source', '--input-type=module', '-e', program], {
      stdio: ['ignore', 'pipe', 'inherit'],
    });
    const [line] = await new Promise<[Buffer]>((resolve) =>
      parent.stdout.once('data', (data: Buffer) => resolve([data])),
    );
    const pid = Number(line.toString());
    expect(isRunning(pid)).toBe(true);
    parent.kill('SIGKILL');
    await until(() => !isRunning(pid));
  });
});

describe('footage over movers', () => {
  it('keeps to the limit of each destination, and pieces of work that share destinations never wait for each other for ever', async () => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, Object.fromEntries(Array.from({ length: 6 }, (_, index) => [`${index}.mov`, 3 * MIB])));
    const one = await destinationAt(join(folder.path, 'one'), 'one');
    const two = await destinationAt(join(folder.path, 'two'), 'two');
    await using footage = {
      ...createFootage({ parallelPerDestination: () => 1 }),
      [Symbol.asyncDispose]: async () => footage.close(),
    };
    const request = await copyRequestFor({ source, destinations: [] });
    const copies = request.files.map((file, index) =>
      footage.copy(
        { ...request, files: [file], destinations: index % 2 === 0 ? [one, two] : [two, one] },
        calmControls(),
      ),
    );
    for (const outcomes of await Promise.all(copies)) expect(statesOf(outcomes)).toEqual(['written', 'written']);
    const reads = [one, two].map((destination) =>
      footage.readBack({ roll: ROLL, paths: request.files.map(({ path }) => path), destination }, calmControls()),
    );
    for (const outcomes of await Promise.all(reads))
      expect(outcomes.every(({ state }) => state === 'verified')).toBe(true);
  });

  it('lets go of work that waits for its turn when the signal aborts', async () => {
    await using folder = await temporaryFolder();
    const source = join(folder.path, 'drive');
    await writeTree(source, { 'a.mov': 40 * MIB });
    const destination = await destinationAt(join(folder.path, 'one'));
    await using footage = {
      ...createFootage({ parallelPerDestination: () => 1 }),
      [Symbol.asyncDispose]: async () => footage.close(),
    };
    const request = await copyRequestFor({ source, destinations: [destination] });
    const first = footage.copy(request, calmControls());
    const giving = new AbortController();
    const second = footage.copy(request, { signal: giving.signal, onBytes: () => undefined });
    giving.abort(new Error('not wanted any more'));
    await expect(second).rejects.toThrow('not wanted any more');
    expect(statesOf(await first)).toEqual(['written']);
    expect(statesOf(await footage.copy(request, calmControls()))).toEqual(['written']);
  });
});
