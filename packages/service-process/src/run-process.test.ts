import { type ChildProcess, fork } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { saysReady, sendRedis } from './supervisor-messages.ts';

let folder: string;
let child: ChildProcess | null = null;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'quayside-process-'));
});
afterEach(async () => {
  child?.kill('SIGKILL');
  await rm(folder, { recursive: true });
});

interface Line {
  readonly from: string;
  readonly sentence: string;
  readonly level?: string;
  readonly trace?: string;
}

/** A real process around `start`, its body, and what it said and how it ended. */
async function run(
  body: string,
): Promise<{ readonly process: ChildProcess; ended: Promise<readonly [Line[], number]> }> {
  const file = join(folder, 'process.ts');
  const source = new URL('index.ts', import.meta.url).href;
  const shoot = import.meta.resolve('@quayside/shoot');
  await writeFile(
    file,
    `import { logLines, redisFromSupervisor, runProcess } from ${JSON.stringify(source)};
     import { QuaysideError } from ${JSON.stringify(shoot)};
     const log = logLines('kiln');
     await runProcess(log, async () => { ${body} });`,
  );
  const started = fork(file, [], { execArgv: ['--conditions=source'], stdio: ['ignore', 'pipe', 'pipe', 'ipc'] });
  child = started;
  let text = '';
  for (const stream of [started.stdout, started.stderr])
    stream?.setEncoding('utf8').on('data', (part) => (text += part));
  const over = [
    once(started, 'exit'),
    ...[started.stdout, started.stderr].map((stream) => once(stream ?? started, 'end')),
  ];
  const ended = Promise.all(over).then((ends): readonly [Line[], number] => [
    // Every line is JSON: a raw stack would not parse.
    text
      .split('\n')
      .filter(Boolean)
      .map((line): Line => JSON.parse(line)),
    Number(ends[0]?.[0]),
  ]);
  return { process: started, ended };
}

const fires = `throw new QuaysideError({ code: 'KILN_COLD', sentence: 'The kiln is cold. Heat it.', retry: 'later' });`;
const untilReady = async (started: ChildProcess): Promise<void> => {
  for (;;) if (saysReady((await once(started, 'message'))[0])) return;
};

it('says that it is ready, waits for Redis until the supervisor names it, and ends once and in order', async () => {
  const { process: started, ended } = await run(
    `log('loaded'); log(await redisFromSupervisor()); const timer = setInterval(() => {}, 1000);
     return async () => { log('ending'); clearInterval(timer); };`,
  );
  sendRedis(started, '/run/redis.sock');
  await untilReady(started);
  started.kill('SIGTERM');
  started.kill('SIGTERM');
  const [lines, code] = await ended;
  expect(lines.map(({ sentence }) => sentence)).toEqual(['loaded', '/run/redis.sock', 'ending']);
  expect(code).toBe(0);
});

it.each([
  ['at its start', fires],
  [
    'later, in work that nobody waits for',
    `setTimeout(() => { void (async () => { ${fires} })(); }, 10); return async () => {};`,
  ],
])('a failure %s is one sentence and exit code 1, never a raw stack', async (_when, body) => {
  const [lines, code] = await (await run(body)).ended;
  expect(lines).toMatchObject([{ from: 'kiln', sentence: 'The kiln is cold. Heat it.', level: 'error' }]);
  expect(code).toBe(1);
});

it('what nobody foresaw keeps its trace, for who mends it', async () => {
  const [lines, code] = await (await run(`null.glaze; return async () => {};`)).ended;
  expect(lines).toMatchObject([{ sentence: expect.stringContaining('Something unforeseen'), level: 'error' }]);
  expect(lines[0]?.trace).toContain('process.ts');
  expect(code).toBe(1);
});

it.each([
  ['while it waits for Redis', `process.send('waits'); await redisFromSupervisor(); return async () => {};`, 1],
  ['while it works', `setInterval(() => {}, 1000); return async () => process.exit(0);`, 0],
])('it ends when its supervisor is gone, %s', async (_when, body, expected) => {
  const { process: started, ended } = await run(body);
  await once(started, 'message');
  started.disconnect();
  const [lines, code] = await ended;
  expect(code).toBe(expected);
  expect(lines).toHaveLength(expected);
});
