import { once } from 'node:events';
import { readFile } from 'node:fs/promises';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import { expect, it } from 'vitest';
import { type Home, makeHome, quayside, type Started, startQuayside } from '../quayside.test-support.ts';

const READY = 'Quayside is ready';
/** The machine that runs this may be busy with other tests. */
const LONG_MS = 120_000;

async function end(started: Started, signal: NodeJS.Signals = 'SIGTERM'): Promise<number | null> {
  started.child.kill(signal);
  return (await started.ended).code;
}

async function pidsOf({ data }: Home): Promise<Record<string, number>> {
  const redis = Number.parseInt(await readFile(join(data, 'redis.pid'), 'utf8'), 10);
  const supervisor = Number.parseInt(await readFile(join(data, 'service.pid'), 'utf8'), 10);
  const children = await readFile(`/proc/${supervisor}/task/${supervisor}/children`, 'utf8');
  const pids = children
    .trim()
    .split(' ')
    .map(Number)
    .filter((pid) => pid !== redis);
  const named = await Promise.all(
    pids.map(async (pid) => {
      const command = await readFile(`/proc/${pid}/cmdline`, 'utf8').catch(() => '');
      return [/apps\/([\w-]+)\/src/.exec(command)?.[1] ?? command, pid] as const;
    }),
  );
  // What makes the page, where it is not made yet, ends soon by itself.
  const lasting = named.filter(([name]) => name !== '' && !name.includes('make-page'));
  return Object.fromEntries([...lasting, ['redis', redis]]);
}

function isAlive(pid: number | undefined): boolean {
  try {
    return process.kill(pid ?? 0, 0);
  } catch {
    return false;
  }
}

async function until(holds: () => Promise<boolean>): Promise<void> {
  while (!(await holds().catch(() => false))) await pause(50);
}

it(
  'refuses a port that another program uses, in one sentence, and leaves nothing running',
  async () => {
    const other = createServer().listen(0, '127.0.0.1');
    await once(other, 'listening');
    const address = other.address();
    const port = typeof address === 'object' && address !== null ? address.port : 0;
    await using home = await makeHome({ port });
    const ended = await quayside(['start', '-c', home.file]);
    other.close();
    expect(ended.code).toBe(1);
    const [first, ...rest] = ended.stderr.split('\n');
    // Said before anything else is done.
    expect(first).toMatch(/^quayside: Starting with .*quayside\.yaml\./);
    expect(rest.join('\n')).toBe(
      `The API cannot listen on port ${port} of 127.0.0.1: another program uses it. End that program, or set api.port in the configuration to another port.\n`,
    );
  },
  LONG_MS,
);

it(
  'refuses to start where no Redis is installed, and says how to get one',
  async () => {
    await using home = await makeHome();
    const ended = await quayside(['start', '-c', home.file], { PATH: '/nonexistent' });
    expect(ended.code).toBe(1);
    expect(ended.stderr).toContain('apt-get install redis-server');
  },
  LONG_MS,
);

it(
  'refuses a Redis that does not answer',
  async () => {
    await using home = await makeHome({ lines: 'redis: { url: "redis://127.0.0.1:9" }\n' });
    const ended = await quayside(['start', '-c', home.file]);
    expect(ended.code).toBe(1);
    expect(ended.stderr).toContain('Redis at redis://127.0.0.1:9 does not answer');
  },
  LONG_MS,
);

it.skipIf(process.platform !== 'linux')(
  'starts everything, refuses a second start, mends what dies, and stops in order (Linux: reads /proc)',
  async () => {
    await using home = await makeHome();
    const started = startQuayside(['start', '-c', home.file]);
    await started.sees(READY);
    const pids = await pidsOf(home);
    expect(Object.keys(pids).toSorted()).toEqual(['admin-api', 'redis', 'watcher', 'worker']);

    const second = await quayside(['start', '-c', home.file]);
    expect(second.code).toBe(1);
    expect(second.stderr).toContain(
      `Quayside already runs on the data folder ${home.data} (process ${started.child.pid}`,
    );

    for (const name of ['worker', 'admin-api'] as const) {
      process.kill(pids[name] ?? 0, 'SIGKILL');
      await until(async () => {
        const now = (await pidsOf(home))[name];
        return now !== undefined && now !== pids[name];
      });
    }
    await started.sees('The worker ended unexpectedly (SIGKILL); it is started again in 0.2 s.');
    await until(async () => (await quayside(['status', '-c', home.file])).stdout.includes('May I record over it?'));

    const last = await pidsOf(home);
    expect(await end(started)).toBe(0);
    expect(Object.values(last).filter(isAlive)).toEqual([]);
  },
  LONG_MS,
);

it.skipIf(process.platform !== 'linux')(
  'takes its processes along when it is killed without warning, and starts again (Linux: reads /proc)',
  async () => {
    await using home = await makeHome();
    const first = startQuayside(['start', '-c', home.file]);
    await first.sees(READY);
    const { redis, ...others } = await pidsOf(home);
    await end(first, 'SIGKILL');
    await until(async () => !Object.values(others).some(isAlive));
    const again = startQuayside(['start', '-c', home.file]);
    await again.sees(READY);
    // It is ended before the new one starts, but who has adopted it may take a moment to notice.
    await until(async () => !isAlive(redis));
    expect(await end(again, 'SIGINT')).toBe(0);
  },
  LONG_MS,
);

it(
  'shows, assigns and follows through the API of the running service',
  async () => {
    await using home = await makeHome();
    const started = startQuayside(['start', '-c', home.file]);
    await started.sees(READY);
    const run = async (...args: readonly string[]): Promise<string> => {
      const { code, stdout, stderr } = await quayside([...args, '-c', home.file]);
      return `${code} ${stdout}${stderr}`;
    };
    const followed = startQuayside(['events', '--follow', '--json', '-c', home.file]);
    // Following begins with the present, so something must happen once it has begun.
    let opened = 0;
    const opening = setInterval(() => void run('shoot', 'open', `Kiln ${(opened += 1)}`), 1_500);
    await followed.sees(/"type":"shoot.opened"/);
    clearInterval(opening);
    followed.child.kill('SIGINT');
    expect((await followed.ended).code).toBe(130);

    expect(await run('shoot', 'open', 'Wheel day')).toMatch(/^0 Shoot wheel-day is open/);
    expect(await run('shoot', 'open', 'wheel DAY')).toMatch(/^1 Shoot "wheel-day" .* is there already/);
    expect(await run('shoots')).toContain('wheel-day');
    expect(await run('shoot', 'close', 'wheel-day')).toMatch(/^0 Shoot wheel-day is closed with 0 rolls/);
    expect(await run('volumes')).toContain(join(home.folder, 'drives'));
    expect(await run('status')).toMatch(
      /^0 May I record over it\?\n {2}No drive of a known recorder is connected\.\nNever format/,
    );
    expect(await run('status', '--json')).toContain('"drives":[]');
    expect(await run('retry', 'nobody')).toMatch(/^1 The service knows no roll, no shoot and no run "nobody"\./);
    expect(await run('retry', 'seal-nobody-1-0-primary')).toMatch(/^1 There is no run "seal-nobody-1-0-primary"/);
    expect(await run('retry', 'seal-nobody-1', '--step', 'seal')).toMatch(/^1 .* a run takes no --step/);
    expect(await run('retry', 'wheel-day', '--step', 'seal')).toMatch(/^0 Nothing of shoot "wheel-day" has failed/);
    expect(await run('retry', 'wheel-day', '--step', 'polish')).toMatch(/^1 .*step/);
    expect(await run('roll', 'move', 'nobody', 'wheel-day')).toBe('1 The service knows no roll "nobody".\n');
    expect(await run('assign', 'nobody', 'wheel')).toBe('1 The service has seen no volume "nobody".\n');
    expect(await run('events')).toContain('shoot.opened');
    expect(await end(started)).toBe(0);
  },
  LONG_MS,
);
