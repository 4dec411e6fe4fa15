import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { createServer, type Server } from 'node:net';
import { join } from 'node:path';
import { readFile, writeFile } from 'node:fs/promises';
import { afterAll, afterEach, beforeAll, expect, it, vi } from 'vitest';
import type { GuestOutcome } from './run/guest-run.ts';
import { FOOTAGE, OTHER_FOOTAGE, SECRET, Studio } from './studio.test-support.ts';

let studio: Studio;
beforeAll(async () => {
  vi.stubEnv('QUAYSIDE_SECRET', SECRET);
  studio = await Studio.open();
});
afterAll(async () => {
  await studio.close();
  vi.unstubAllEnvs();
});

// Whatever it was, the footage is as it was and the next step of another plugin runs.
afterEach(async () => {
  expect(await studio.footage()).toEqual([FOOTAGE, OTHER_FOOTAGE]);
  expect(await studio.run('return { well: true };', { plugin: 'good' })).toMatchObject({ state: 'done' });
});

function failureIn(outcome: GuestOutcome): { readonly code: string; readonly sentence: string } {
  expect(outcome.state).toBe('failed');
  const failure = outcome.state === 'failed' ? outcome.failure : { code: 'none', sentence: '' };
  expect(failure.sentence).toContain('plugin "hostile"');
  return failure;
}

it.each([
  ['throws', 'PLUGIN_THREW', "throw new Error('The glaze is off.');"],
  ['throws what is no error', 'PLUGIN_THREW', 'throw { toString() { throw 1; } };'],
  [
    'leaves a rejected promise behind',
    'PLUGIN_THREW',
    "void Promise.reject(new Error('late')); await new Promise(() => {});",
  ],
  ['throws in a timer', 'PLUGIN_THREW', "setTimeout(() => { throw new Error('late'); }); await new Promise(() => {});"],
  ['ends its process', 'PLUGIN_EXITED', 'process.exit(0);'],
  ['aborts its process', 'PLUGIN_EXITED', 'process.abort();'],
  ['returns what JSON cannot hold', 'PLUGIN_BAD_OUTPUT', 'return { at: new Date() };'],
  ['returns a thing that holds itself', 'PLUGIN_BAD_OUTPUT', 'const ring: any = {}; ring.ring = ring; return ring;'],
  ['returns more than fits', 'PLUGIN_BREACH', "return { text: 'x'.repeat(3e6) };"],
])('a step that %s fails with %s', async (_what, code, body) => {
  expect(failureIn(await studio.run(body)).code).toBe(code);
});

it('a step that returns the wrong shape fails, and the place is named', async () => {
  const step = `output: { '~standard': { version: 1, vendor: 'test', validate: (value: any) => typeof value?.frames === 'number'
    ? { value } : { issues: [{ message: 'must be a number', path: ['frames'] }] } } } as never,`;
  const failure = failureIn(await studio.run("return { frames: 'many' };", { step }));
  expect(failure).toMatchObject({ code: 'PLUGIN_BAD_OUTPUT', sentence: expect.stringContaining('at "frames"') });
});

it('a step that loops for ever, deaf to all it is told, is ended after its time', async () => {
  const limits = { seconds: 1, memoryMb: 256, programsMb: 4096, outputMb: 1, parallel: 1 };
  expect(failureIn(await studio.run('for (;;);', { limits })).code).toBe('PLUGIN_TIMED_OUT');
});

it.each([
  [
    'buffers',
    'const kept = []; for (;;) { kept.push(Buffer.alloc(4e6, 1)); await new Promise((go) => setTimeout(go, 2)); }',
  ],
  ['objects', 'const kept: unknown[] = []; for (;;) kept.push({ at: kept.length, text: String(kept.length) });'],
])('a step that leaks %s is ended when it passes its memory', async (_what, body) => {
  expect(failureIn(await studio.run(body)).code).toBe('PLUGIN_OUT_OF_MEMORY');
});

it('what a step prints is kept as far as the log goes, and one that floods it is stopped', async () => {
  const chatty = await studio.run(
    "for (let line = 0; line < 5000; line += 1) console.log('line', line, '\\x1b[2J'); return null;",
  );
  expect(chatty.state).toBe('done');
  expect(chatty.log.head[0]?.text).toBe('line 0 \u{FFFD}[2J');
  expect(chatty.log.head.length + chatty.log.droppedLines + chatty.log.tail.length).toBe(5000);
  expect(chatty.log.tail.at(-1)?.text).toContain('line 4999');
  const flood =
    'const garbage = Buffer.alloc(1e6, 0xff); for (;;) await new Promise((go) => process.stdout.write(garbage, go));';
  expect(failureIn(await studio.run(flood)).code).toBe('PLUGIN_BREACH');
});

it('a step cannot start programs or threads, load compiled code or signal other processes without a grant', async () => {
  const outcome = await studio.run(`
    const tried: Record<string, string> = {};
    const attempt = async (what: string, act: () => unknown) => {
      try { await act(); tried[what] = 'DONE'; } catch (error: any) { tried[what] = error.code; }
    };
    const { execFileSync, fork } = await import('node:child_process');
    await attempt('program', () => execFileSync('/bin/true'));
    await attempt('fork', () => fork('/dev/null'));
    await attempt('thread', async () => new (await import('node:worker_threads')).Worker('', { eval: true }));
    await attempt('addon', () => process.dlopen({ exports: {} }, '/nowhere.node'));
    await attempt('signal', () => process.kill(process.ppid, 0));
    await attempt('debug', () => (process as any)._debugProcess(process.ppid));
    await attempt('priority', async () => (await import('node:os')).setPriority(process.ppid, 19));
    await attempt('exec', () => (process as any).execve('/bin/true', ['true'], {}));
    await attempt('binding', () => (process as any).binding('spawn_sync'));
    await attempt('database', () => process.getBuiltinModule('node:sqlite' as any)?.DatabaseSync ?? Promise.reject({ code: 'ABSENT' }));
    await attempt('flags', async () => (await import('node:v8')).setFlagsFromString('--trace-turbo'));
    return tried;`);
  expect(outcome).toMatchObject({
    output: {
      program: 'ERR_ACCESS_DENIED',
      fork: 'ERR_ACCESS_DENIED',
      thread: 'ERR_ACCESS_DENIED',
      addon: 'ERR_DLOPEN_DISABLED',
      signal: 'ERR_ACCESS_DENIED',
      debug: 'ERR_ACCESS_DENIED',
      priority: 'ERR_ACCESS_DENIED',
      exec: 'ERR_ACCESS_DENIED',
      binding: 'ERR_ACCESS_DENIED',
      database: 'ABSENT',
      flags: 'ERR_ACCESS_DENIED',
    },
  });
});

it('a step that starts a program without the grant fails, and is told what to ask for', async () => {
  const before = "import { execFileSync } from 'node:child_process';";
  const failure = failureIn(await studio.run("execFileSync('/bin/true');", { before }));
  expect(failure).toMatchObject({
    code: 'PLUGIN_DENIED',
    sentence: expect.stringMatching(/start a program.*grant it/),
  });
});

it('a step cannot write outside its two folders, whatever it tries', async () => {
  await writeFile(join(studio.folder, 'outside.txt'), 'as it was');
  const outcome = await studio.run(`
    const done: string[] = [];
    const attempt = (what: string, act: () => unknown) => { try { act(); done.push(what); } catch {} };
    const copy = copies.of(subject.clip);
    const outside = ${JSON.stringify(join(studio.folder, 'outside.txt'))};
    for (const path of [copy, copy + '.new', outside, '/tmp/quayside-escaped', outputFolder + '/../../../../outside.txt']) {
      attempt('write ' + path, () => fs.writeFileSync(path, 'HACK'));
      attempt('append ' + path, () => fs.appendFileSync(path, 'HACK'));
      attempt('truncate ' + path, () => fs.truncateSync(path, 0));
      attempt('remove ' + path, () => fs.rmSync(path));
      attempt('rename ' + path, () => fs.renameSync(path, outputFolder + '/moved'));
      attempt('times ' + path, () => fs.utimesSync(path, 1, 1));
      attempt('mode ' + path, () => fs.chmodSync(path, 0o777));
      attempt('hard link ' + path, () => { fs.linkSync(path, outputFolder + '/hard'); fs.writeFileSync(outputFolder + '/hard', 'HACK'); });
      attempt('link ' + path, () => { fs.symlinkSync(path, outputFolder + '/soft'); fs.writeFileSync(outputFolder + '/soft', 'HACK'); });
      attempt('copy over ' + path, () => { fs.writeFileSync(scratchFolder + '/hack', 'HACK'); fs.copyFileSync(scratchFolder + '/hack', path); });
    }
    attempt('through an open file', () => { const file = fs.openSync(copy, 'r'); fs.writeSync(file, 'HACK'); });
    attempt('shorten an open file', () => { const file = fs.openSync(copy, 'r'); fs.ftruncateSync(file, 0); });
    attempt('report', () => process.report.writeReport(copy));
    attempt('remove the roll', () => fs.rmSync(copy + '/..', { recursive: true }));
    attempt('through proc', () => fs.writeFileSync('/proc/self/root' + outside, 'HACK'));
    return done;`);
  // The file of its own that "truncate" and the like would leave is not there either.
  expect(outcome).toMatchObject({ state: 'done', output: [] });
  expect(await readFile(join(studio.folder, 'outside.txt'), 'utf8')).toBe('as it was');
  expect(existsSync('/tmp/quayside-escaped')).toBe(false);
});

it('a step cannot read another roll, the configuration beside it, the system, or the secrets of the service', async () => {
  const roll = join(studio.folder, 'shoot/wheel/wheel-10/cup.mov');
  const outcome = await studio.run(`
    const seen: unknown[] = [];
    const paths = [${JSON.stringify(roll)}, ${JSON.stringify(join(studio.folder, 'plugins/quayside.yaml'))}, '/etc/passwd',
      copies.folderOf(subject.roll) + '/../wheel-10/cup.mov', '/proc/self/environ', '/proc/' + process.ppid + '/environ',
      '/proc/self/cwd/../../plugins/quayside.yaml'];
    for (const path of paths) { try { seen.push(fs.readFileSync(path, 'utf8')); } catch {} }
    try { seen.push(fs.readdirSync(copies.folderOf(subject.roll) + '/..')); } catch {}
    try { seen.push(copies.of({ id: 'wheel-10/cup.mov' })); } catch {}
    return { seen, environment: Object.keys(process.env).sort(), all: JSON.stringify(process.env) + process.argv + process.execArgv };`);
  expect(outcome).toMatchObject({ state: 'done', output: { seen: [] } });
  expect(JSON.stringify(outcome)).not.toContain(SECRET);
  const output = outcome.state === 'done' ? outcome.output : null;
  expect(output).toMatchObject({ environment: expect.not.arrayContaining(['QUAYSIDE_SECRET', 'NODE_OPTIONS']) });
});

it('a step reaches no server without the grant, and does with it', async () => {
  const server: Server = createServer((socket) => socket.end('hello'));
  await new Promise<void>((done) => server.listen(join(studio.folder, 'server.sock'), done));
  const body = `
    const net = await import('node:net');
    const tried: Record<string, string> = {};
    const attempt = async (what: string, act: () => unknown) => {
      try { tried[what] = String(await act()); } catch (error: any) { tried[what] = error.code ?? error.cause?.code; }
    };
    const path = ${JSON.stringify(join(studio.folder, 'server.sock'))};
    const ask = (socket: any) => new Promise((done, fail) => socket.on('data', done).on('error', fail));
    await attempt('connect', () => ask(net.connect(path)));
    await attempt('socket', () => ask(new net.Socket().connect(path)));
    await attempt('constructor', () => ask(new (process.stdout as any).constructor().connect(path)));
    await attempt('listen', () => new Promise((done, fail) => net.createServer().on('error', fail).listen(0, () => done('LISTENS'))));
    await attempt('fetch', () => fetch('http://127.0.0.1:8765/'));
    await attempt('datagram', async () => (await import('node:dgram')).createSocket('udp4'));
    await attempt('name', async () => (await import('node:dns')).promises.lookup('localhost').then(() => 'FOUND'));
    return tried;`;
  const denied = 'ERR_ACCESS_DENIED';
  expect(await studio.run(body)).toMatchObject({
    output: {
      connect: denied,
      socket: denied,
      constructor: denied,
      listen: denied,
      fetch: denied,
      datagram: denied,
      name: denied,
    },
  });
  expect(await studio.run(body, { grants: ['network'] })).toMatchObject({
    output: { connect: 'hello', listen: 'LISTENS' },
  });
  server.close();
});

it('what a step answers after it was stopped is of no account, and a deaf one is ended after the grace time', async () => {
  const stop = new AbortController();
  const body =
    "progress({ fraction: 0 }); await new Promise((go) => signal.addEventListener('abort', go)); return 'late';";
  const onProgress = (): void => stop.abort();
  expect(await studio.run(body, { signal: stop.signal, onProgress })).toMatchObject({ state: 'cancelled' });
  const deaf = new AbortController();
  expect(
    await studio.run('progress({ fraction: 0 }); for (;;);', { signal: deaf.signal, onProgress: () => deaf.abort() }),
  ).toMatchObject({ state: 'cancelled' });
});

it.each([
  ['of no known kind', `fs.writeSync(3, '{"type":"clear","roll":"wheel-1"}\\n')`],
  ['that are no JSON', `fs.writeSync(3, 'garbage\\n')`],
  ['for another run', `fs.writeSync(3, '{"type":"done","run":"another","output":1,"isAtRest":true}\\n')`],
  [
    'without an end',
    `for (;;) { try { fs.writeSync(3, 'x'.repeat(65536)); } catch { await new Promise((go) => setTimeout(go, 1)); } }`,
  ],
  [
    'about what is not its subject',
    `report.finding({ code: 'X', severity: 'critical', subject: { kind: 'roll', id: 'kiln-1' }, sentence: 's', remedy: 'r' })`,
  ],
  [
    'in a flood',
    `for (let i = 0; i < 20000; i += 1) log.info('x'.repeat(1500)); await new Promise((go) => setTimeout(go, 5000))`,
  ],
])('messages %s end the step that forges them', async (_what, body) => {
  expect(failureIn(await studio.run(`${body}; await new Promise(() => {});`)).code).toBe('PLUGIN_BREACH');
});

async function pid(body: string): Promise<unknown> {
  const outcome = await studio.run(`${body}; return process.pid;`);
  return outcome.state === 'done' ? outcome.output : outcome;
}

it('a process with open handles after its answer is not used for the next run; one at rest is', async () => {
  const busy = await pid('setInterval(() => {}, 1000)');
  expect(await pid('setInterval(() => {}, 1000)')).not.toBe(busy);
  const restful = await pid('0');
  expect(await pid('0')).toBe(restful);
});

it('a program that a step may start ends with it, and everything of it runs behind the rest', async () => {
  const before = "import { spawn } from 'node:child_process';";
  const outcome = await studio.run(
    `const child = spawn('sleep', ['300']); await new Promise((go) => child.on('spawn', go));
     return { child: child.pid, own: process.pid };`,
    { before, grants: ['child-processes'] },
  );
  const { child } = (outcome.state === 'done' ? outcome.output : {}) as { child: number };
  await vi.waitFor(() => expect(() => process.kill(child, 0)).toThrow('ESRCH'), 5000);
});

// proc(5): the nineteenth field of a thread's stat is its nice value; the second, its name, may hold spaces.
it.skipIf(process.platform !== 'linux')(
  'every thread of its process has a low priority (read from /proc, on Linux)',
  async () => {
    const stop = new AbortController();
    const niceness = new Set<string | undefined>();
    const onProgress = ({ text = '' }: { text?: string }): void => {
      for (const thread of readdirSync(`/proc/${text}/task`)) {
        const fields = readFileSync(`/proc/${text}/task/${thread}/stat`, 'utf8')
          .replace(/^.*\) /s, '')
          .split(' ');
        niceness.add(fields[16]);
      }
      stop.abort();
    };
    const body = 'progress({ fraction: 0, text: String(process.pid) }); await new Promise(() => {});';
    expect((await studio.run(body, { signal: stop.signal, onProgress })).state).toBe('cancelled');
    expect([...niceness]).toEqual(['15']);
  },
);
