import { execFile, spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdir, readdir, readFile, stat, truncate, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { setTimeout as pause } from 'node:timers/promises';
import { promisify } from 'node:util';
import { describe, expect, it, onTestFinished } from 'vitest';
import { openStore } from './open-store.ts';
import type { RedisAddress } from './redis-address.ts';
import { temporaryFolder } from './redis-server.test-support.ts';
import { sampleRoll } from './samples.test-support.ts';
import { type RunningRedis, startRedis, type StartRedisOptions } from './start-redis.ts';
import type { Store } from './store.ts';
import { type RedisChange, superviseRedis } from './supervise-redis.ts';

const run = promisify(execFile);

async function testStart(dataFolder: string, options: Partial<StartRedisOptions> = {}): Promise<RunningRedis> {
  const redis = await startRedis({ dataFolder, log: () => undefined, ...options });
  onTestFinished(() => redis.stop());
  return redis;
}

async function testStore(address: RedisAddress): Promise<Store> {
  const store = await openStore(address);
  onTestFinished(() => store.close());
  return store;
}

/** Redis' own client, so that what is checked does not pass through our code. */
async function redisCli(address: RedisAddress, ...args: readonly string[]): Promise<string> {
  const path = address.kind === 'socket' ? address.path : '';
  return (await run('redis-cli', ['-s', path, ...args])).stdout.trim();
}

function isAlive(pid: number): boolean {
  try {
    return process.kill(pid, 0);
  } catch {
    return false;
  }
}

async function eventually(holds: () => boolean | Promise<boolean>): Promise<void> {
  while (!(await holds())) await pause(20);
}

/** A folder with some rolls written by a Redis that has ended, and the append-only file that they are in. */
async function folderWithRolls(): Promise<{ folder: string; appendOnlyFile: string }> {
  const folder = await temporaryFolder();
  const redis = await startRedis({ dataFolder: folder, log: () => undefined });
  const store = await openStore(redis.address);
  for (const id of ['hands-1', 'kiln-1', 'wheel-1']) await store.changeRoll(id, () => sampleRoll(id));
  await store.close();
  await redis.stop();
  const files = await readdir(join(folder, 'redis', 'appendonlydir'));
  const name = files.find((file) => file.endsWith('.incr.aof')) ?? '';
  return { folder, appendOnlyFile: join(folder, 'redis', 'appendonlydir', name) };
}

/** What Redis' own tool says of the file: true when it finds it sound. */
async function isSound(appendOnlyFile: string): Promise<boolean> {
  return run('redis-check-aof', [appendOnlyFile]).then(
    () => true,
    () => false,
  );
}

describe('starting', () => {
  it('answers on a socket for this user only, on no port, with safe settings', async () => {
    const redis = await testStart(await temporaryFolder());
    const path = redis.address.kind === 'socket' ? redis.address.path : '';
    expect((await stat(path)).mode & 0o777).toBe(0o700);
    expect(await redisCli(redis.address, 'PING')).toBe('PONG');
    const expected = {
      port: '0',
      appendonly: 'yes',
      appendfsync: 'everysec',
      save: '',
      'maxmemory-policy': 'noeviction',
    };
    for (const [name, value] of Object.entries(expected)) {
      expect((await redisCli(redis.address, 'CONFIG', 'GET', name)).split('\n')[1] ?? '').toBe(value);
    }
  });

  it('keeps its data over a stop, and its address', async () => {
    const { folder } = await folderWithRolls();
    const redis = await testStart(folder);
    expect((await (await testStore(redis.address)).rolls()).map((roll) => roll.id)).toEqual([
      'hands-1',
      'kiln-1',
      'wheel-1',
    ]);
    const again = redis.address;
    await redis.stop();
    await redis.stop();
    expect(await redis.exited).toBe(0);
    expect((await testStart(folder)).address).toEqual(again);
  });

  it('works in a folder with spaces and quotes in its name', async () => {
    const redis = await testStart(join(await temporaryFolder(), `kiln "two" it's`));
    expect(await redisCli(redis.address, 'PING')).toBe('PONG');
  });

  it('moves the socket to a short private folder when the path would be too long', async () => {
    const runtimeFolder = await temporaryFolder();
    const dataFolder = join(await temporaryFolder(), 'x'.repeat(120));
    const redis = await testStart(dataFolder, { runtimeFolder });
    const path = redis.address.kind === 'socket' ? redis.address.path : '';
    expect(path.startsWith(runtimeFolder)).toBe(true);
    expect((await stat(join(path, '..'))).mode & 0o777).toBe(0o700);
    expect(await redisCli(redis.address, 'PING')).toBe('PONG');
    await redis.stop();
    // The same folder, now open to others: somebody else may have made it.
    await mkdir(join(path, '..'), { recursive: true });
    await run('chmod', ['777', join(path, '..')]);
    await expect(testStart(dataFolder, { runtimeFolder })).rejects.toMatchObject({
      code: 'REDIS_FOLDER_UNSAFE',
    });
  });

  it('says how to install a server when there is none', async () => {
    const [dataFolder, emptyFolder] = [await temporaryFolder(), await temporaryFolder()];
    const { PATH } = process.env;
    onTestFinished(() => {
      process.env['PATH'] = PATH;
    });
    process.env['PATH'] = emptyFolder;
    const starting = testStart(dataFolder);
    await expect(starting).rejects.toMatchObject({ code: 'REDIS_MISSING', retry: 'never' });
    await expect(starting).rejects.toThrow(/apt-get install redis-server.*brew install redis/);
  });

  it.skipIf(process.platform !== 'linux')(
    'leaves the process group of the service, so that Ctrl-C does not end it first (Linux only: reads /proc)',
    async () => {
      const redis = await testStart(await temporaryFolder());
      // proc(5), /proc/pid/stat: the fifth field is the process group; the second, in brackets, may hold spaces.
      const status = await readFile(`/proc/${redis.pid}/stat`, 'utf8');
      expect(status.slice(status.lastIndexOf(')') + 2).split(' ')[2]).toBe(String(redis.pid));
    },
  );

  it.skipIf(process.platform !== 'linux')('tells what an idle server takes (Linux only: reads /proc)', async () => {
    const redis = await testStart(await temporaryFolder());
    await testStore(redis.address);
    const rollup = await readFile(`/proc/${redis.pid}/smaps_rollup`, 'utf8');
    const kilobytes = Number(/^Pss:\s+(\d+)/m.exec(rollup)?.[1]);
    process.stdout.write(`idle Redis: ${(kilobytes / 1024).toFixed(1)} MiB proportional set size\n`);
    expect(kilobytes).toBeGreaterThan(0);
  });
});

describe('one server for one folder', () => {
  it('a second start on the folder is refused while the first is alive, and the first goes on', async () => {
    const folder = await temporaryFolder();
    const redis = await testStart(folder);
    await expect(testStart(folder)).rejects.toMatchObject({
      code: 'REDIS_FOLDER_IN_USE',
      retry: 'never',
    });
    expect(await redisCli(redis.address, 'PING')).toBe('PONG');
  });

  it('of several that start at the same time exactly one gets the folder', async () => {
    const folder = await temporaryFolder();
    const starts = await Promise.allSettled([1, 2, 3].map(() => testStart(folder)));
    expect(starts.filter((start) => start.status === 'fulfilled')).toHaveLength(1);
  });

  it.each(['answers', 'hangs'])(
    'a server that a killed service left behind, and that %s, is replaced with its data kept',
    async (how) => {
      const folder = await temporaryFolder();
      const script = join(import.meta.dirname, 'hold-redis.test-support.ts');
      const service = spawn(process.execPath, ['--conditions=source', script, folder], {
        stdio: ['ignore', 'pipe', 'inherit'],
      });
      onTestFinished(() => void service.kill('SIGKILL'));
      const [line] = await once(createInterface({ input: service.stdout }), 'line');
      const leftOver = Number(line);
      onTestFinished(() => {
        if (isAlive(leftOver)) process.kill(leftOver, 'SIGKILL');
      });
      const address = { kind: 'socket', path: join(folder, 'redis.sock') } as const;
      await (await testStore(address)).changeRoll('wheel-1', () => sampleRoll('wheel-1'));
      await expect(testStart(folder)).rejects.toMatchObject({
        code: 'REDIS_FOLDER_IN_USE',
      });
      const exited = once(service, 'exit');
      service.kill('SIGKILL');
      await exited;
      expect(isAlive(leftOver)).toBe(true);
      // One second, for what `appendfsync everysec` has not yet put on disk when the hanging one is killed.
      await pause(1100);
      if (how === 'hangs') process.kill(leftOver, 'SIGSTOP');
      const lines: string[] = [];
      const redis = await testStart(folder, { log: (sentence) => lines.push(sentence) });
      expect(redis.pid).not.toBe(leftOver);
      expect(lines).toHaveLength(1);
      expect(lines[0]).toContain(String(leftOver));
      await eventually(async () => !isAlive(leftOver) || (await readFile(`/proc/${leftOver}/cmdline`, 'utf8')) === '');
      expect(await (await testStore(redis.address)).roll('wheel-1')).toEqual(sampleRoll('wheel-1'));
    },
  );

  it('a process number from an old file that is now another process is left alone', async () => {
    const folder = await temporaryFolder();
    const bystander = spawn('sleep', ['60']);
    onTestFinished(() => void bystander.kill('SIGKILL'));
    await writeFile(join(folder, 'redis.pid'), `${bystander.pid}\n`);
    await testStart(folder);
    expect(bystander.signalCode).toBeNull();
    expect(isAlive(bystander.pid ?? 0)).toBe(true);
  });
});

describe('damaged data', () => {
  it('an append-only file that was cut short is taken up to the cut', async () => {
    const { folder, appendOnlyFile } = await folderWithRolls();
    await truncate(appendOnlyFile, (await stat(appendOnlyFile)).size - 7);
    expect(await isSound(appendOnlyFile)).toBe(false);
    const lines: string[] = [];
    const redis = await testStart(folder, { log: (line) => lines.push(line) });
    expect((await (await testStore(redis.address)).rolls()).map((roll) => roll.id)).toEqual(['hands-1', 'kiln-1']);
    expect(lines).toEqual([]);
  });

  it('an append-only file with garbage inside is set aside, and the service starts empty', async () => {
    const { folder, appendOnlyFile } = await folderWithRolls();
    const bytes = await readFile(appendOnlyFile);
    bytes.fill('?', Math.round(bytes.length * 0.3), Math.round(bytes.length * 0.7));
    await writeFile(appendOnlyFile, bytes);
    expect(await isSound(appendOnlyFile)).toBe(false);
    const lines: string[] = [];
    const redis = await testStart(folder, { log: (line) => lines.push(line) });
    const store = await testStore(redis.address);
    expect(await store.rolls()).toEqual([]);
    await store.changeRoll('wheel-1', () => sampleRoll('wheel-1'));
    const aside = (await readdir(folder)).filter((name) => name.startsWith('redis-damaged-'));
    expect(aside).toHaveLength(1);
    expect(
      await readFile(join(folder, aside[0] ?? '', 'appendonlydir', appendOnlyFile.split('/').at(-1) ?? '')),
    ).toEqual(bytes);
    expect(lines).toHaveLength(1);
    expect(lines[0]).toContain(aside[0]);
    await redis.stop();
    const again = await testStart(folder, { log: (line) => lines.push(line) });
    expect((await (await testStore(again.address)).rolls()).map((roll) => roll.id)).toEqual(['wheel-1']);
    expect(lines).toHaveLength(1);
  });

  it('data that are not to blame stay where they are, and the failure says what Redis said', async () => {
    const { folder, appendOnlyFile } = await folderWithRolls();
    const before = await readFile(appendOnlyFile);
    await mkdir(join(folder, 'redis.sock'));
    const starting = testStart(folder);
    await expect(starting).rejects.toMatchObject({ code: 'REDIS_DID_NOT_START', retry: 'later' });
    await expect(starting).rejects.toThrow(/said ".*redis\.sock|socket|bind/i);
    expect(await readFile(appendOnlyFile)).toEqual(before);
    expect((await readdir(folder)).filter((name) => name.includes('damaged'))).toEqual([]);
  });
});

describe('supervising', () => {
  it('starts Redis again when it was killed, on the same address, with its data', async () => {
    const changes: RedisChange[] = [];
    const options = { dataFolder: await temporaryFolder(), log: () => undefined };
    const redis = await superviseRedis({ ...options, report: (change) => changes.push(change) });
    onTestFinished(() => redis.stop());
    const store = await testStore(redis.address);
    await store.changeRoll('wheel-1', () => sampleRoll('wheel-1'));
    await pause(1100);
    for (const times of [1, 2]) {
      const pid = redis.pid();
      process.kill(pid, 'SIGKILL');
      await eventually(() => changes.filter((change) => change.kind === 'started').length === times);
      expect(redis.pid()).not.toBe(pid);
    }
    await eventually(async () => (await store.roll('wheel-1').catch(() => null)) !== null);
    expect(changes.map((change) => change.kind)).toEqual(['ended', 'started', 'ended', 'started']);
    const last = redis.pid();
    await redis.stop();
    await pause(300);
    expect(isAlive(last)).toBe(false);
    expect(changes).toHaveLength(4);
  });

  it('tells of a start that failed and goes on trying', async () => {
    const changes: RedisChange[] = [];
    const folder = await temporaryFolder();
    const report = (change: RedisChange): void => void changes.push(change);
    const redis = await superviseRedis({ dataFolder: folder, log: () => undefined, report });
    onTestFinished(() => redis.stop());
    const { PATH } = process.env;
    onTestFinished(() => {
      process.env['PATH'] = PATH;
    });
    process.env['PATH'] = folder;
    process.kill(redis.pid(), 'SIGKILL');
    await eventually(() =>
      changes.some((change) => change.kind === 'failed' && change.failure.code === 'REDIS_MISSING'),
    );
    process.env['PATH'] = PATH;
    await eventually(() => changes.some((change) => change.kind === 'started'));
    expect(await redisCli(redis.address, 'PING')).toBe('PONG');
  });

  it('a stop in the middle of a restart leaves no server behind', async () => {
    for (const waitMs of [0, 60, 120, 140, 160]) {
      const folder = await temporaryFolder();
      const redis = await superviseRedis({ dataFolder: folder, log: () => undefined, report: () => undefined });
      process.kill(redis.pid(), 'SIGKILL');
      await pause(waitMs);
      await redis.stop();
      // Only a folder that is free can be started on.
      await (await testStart(folder)).stop();
    }
  });
});
