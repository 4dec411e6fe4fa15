import { readlinkSync } from 'node:fs';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { FOOTAGE, OTHER_FOOTAGE, Studio } from '../studio.test-support.ts';
import { systemFences } from './system-fences.ts';

let studio: Studio;
beforeAll(async () => {
  studio = await Studio.open();
});
afterAll(async () => {
  expect(await studio.footage()).toEqual([FOOTAGE, OTHER_FOOTAGE]);
  await studio.close();
});

// namespaces(7): a process in a network of its own shows another one in /proc.
it.skipIf(!systemFences().network)(
  'a program that a step starts is in no network that leads anywhere, unless the step has that grant too',
  async () => {
    const before = "import { execFileSync } from 'node:child_process';";
    const body = "return execFileSync('readlink', ['/proc/self/ns/net'], { encoding: 'utf8' }).trim();";
    const ours = readlinkSync('/proc/self/ns/net');
    const fenced = await studio.run(body, { before, grants: ['child-processes'] });
    expect(fenced).toMatchObject({ state: 'done', output: expect.stringMatching(/^net:\[\d+\]$/) });
    expect(fenced).not.toMatchObject({ output: ours });
    expect(await studio.run(body, { before, grants: ['child-processes', 'network'] })).toMatchObject({ output: ours });
  },
);

it.skipIf(!systemFences().limits || !systemFences().privileges)(
  'a program that a step starts can gain no rights and write no file beyond the limit (read from /proc, on Linux)',
  async () => {
    const before = "import { execFileSync } from 'node:child_process';";
    const body = "return execFileSync('cat', ['/proc/self/status', '/proc/self/limits'], { encoding: 'utf8' });";
    const outcome = await studio.run(body, { before, grants: ['child-processes'] });
    const told = outcome.state === 'done' ? outcome.output : outcome;
    expect(told).toMatch(/^NoNewPrivs:\t1$/m);
    expect(told).toMatch(/^Max core file size +0 +0 +bytes/m);
    expect(told).toMatch(/^Max file size +10000000 +10000000 +bytes/m);
    const written = await studio.run("fs.writeFileSync(scratchFolder + '/big', Buffer.alloc(11e6)); return 1;", {});
    expect(written).toMatchObject({ failure: { code: 'PLUGIN_OUTPUT_REFUSED' } });
  },
);

it.skipIf(process.platform !== 'linux')(
  'programs that a step starts have a limit of memory together (on Linux)',
  async () => {
    const before = "import { spawn } from 'node:child_process';";
    // A shell's variable of 300 MB, while the step itself holds next to nothing.
    const body = `const child = spawn('sh', ['-c', 'x=$(head -c 300000000 /dev/zero | tr "\\\\0" x); sleep 60']);
    await new Promise((go) => child.on('exit', go)); return 1;`;
    const limits = { ...LIMITS, programsMb: 100 };
    const outcome = await studio.run(body, { before, grants: ['child-processes'], limits });
    expect(outcome).toMatchObject({
      state: 'failed',
      failure: { code: 'PLUGIN_OUT_OF_MEMORY', sentence: expect.stringContaining('programsMb') },
    });
  },
);

it.skipIf(process.platform !== 'linux')('a step that starts programs without end is stopped (on Linux)', async () => {
  const before = "import { spawn } from 'node:child_process';";
  const body = "for (let i = 0; i < 100; i += 1) spawn('sleep', ['60']); await new Promise(() => {});";
  const outcome = await studio.run(body, { before, grants: ['child-processes'] });
  expect(outcome).toMatchObject({ failure: { code: 'PLUGIN_BREACH' } });
});

const LIMITS = { seconds: 20, memoryMb: 256, programsMb: 4096, outputMb: 10, parallel: 1 };
