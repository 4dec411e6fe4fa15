import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync } from 'node:fs';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { expect, it, onTestFinished, vi } from 'vitest';
import { SUBJECT } from './studio.test-support.ts';

const canDie = process.platform === 'linux' && existsSync('/usr/bin/setpriv');

/** A host in a process of its own, which begins one run and says the process that makes it. */
const HOST = `
const { createGuestHost, findPlugin } = await import(process.argv[2]);
const [, , , folder, subject] = process.argv;
const host = await createGuestHost({ workFolder: folder + '/work' });
await host.run(
  {
    source: await findPlugin('./loop.mjs', folder), plugin: 'loop', step: 'work', subject: JSON.parse(subject), config: {}, outputs: {},
    clipPaths: {}, rollFolders: {}, grants: [], secrets: {}, limits: { seconds: 60, memoryMb: 256, programsMb: 4096, outputMb: 1, parallel: 1 },
  },
  { signal: new AbortController().signal, onProgress: ({ text }) => console.log(text) },
);`;

const LOOP = `export default { apiVersion: 1, name: 'loop', version: '1', steps: [{ name: 'work', scope: 'clip',
  async run({ progress }) { progress({ fraction: 0, text: String(process.pid) }); for (;;); } }] };`;

it.skipIf(!canDie)(
  `a guest that loops ends with a host that is killed${canDie ? '' : ' (skipped: it takes setpriv of util-linux)'}`,
  async () => {
    const folder = await mkdtemp(join(tmpdir(), 'quayside-host-'));
    onTestFinished(() => rm(folder, { recursive: true }));
    await writeFile(join(folder, 'loop.mjs'), LOOP);
    await writeFile(join(folder, 'host.mjs'), HOST);
    const index = new URL('index.ts', import.meta.url).href;
    const args = ['--conditions=source', join(folder, 'host.mjs'), index, folder, JSON.stringify(SUBJECT)];
    const host: ChildProcess = spawn(process.execPath, args, { stdio: ['ignore', 'pipe', 'inherit'] });
    onTestFinished(() => void host.kill('SIGKILL'));
    if (host.stdout === null) throw new Error('It has no output.');
    const [line]: unknown[] = await once(createInterface({ input: host.stdout }), 'line');
    const pid = Number(line);
    expect(() => process.kill(pid, 0)).not.toThrow();
    host.kill('SIGKILL');
    await vi.waitFor(() => expect(() => process.kill(pid, 0)).toThrow('ESRCH'), 10_000);
  },
);
