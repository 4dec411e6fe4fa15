import { execFileSync, spawn } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { temporaryFolder } from '../media-files.test-support.ts';
import { createFileSystemSyncer } from './file-system-syncer.ts';

const isLinux = process.platform === 'linux';
const skipped = isLinux ? '' : ' (skipped: Linux only)';

function childrenOf(pid: number | undefined): number[] {
  return readFileSync(`/proc/${pid}/task/${pid}/children`, 'utf8').split(' ').filter(Boolean).map(Number);
}

// That it calls syncfs(2), and before any name is given, is seen in order-of-syncs.test.ts.
describe.skipIf(!isLinux)(`the syncing of a whole file system${skipped}`, () => {
  it('answers as often as it is asked, also at once, through one shell', async () => {
    await using folder = await temporaryFolder();
    const before = childrenOf(process.pid);
    const syncer = createFileSystemSyncer(folder.path);
    await syncer.sync();
    await Promise.all([syncer.sync(), syncer.sync()]);
    expect(childrenOf(process.pid).filter((pid) => !before.includes(pid))).toHaveLength(1);
  });

  it('fails where it cannot be done', async () => {
    await using folder = await temporaryFolder();
    const syncer = createFileSystemSyncer(`${folder.path}/gone`);
    await expect(syncer.sync()).rejects.toMatchObject({ code: 'EIO' });
    await expect(syncer.sync()).rejects.toMatchObject({ code: 'EIO' });
  });

  it('fails when its shell ends before the answer, and has another the next time', async () => {
    await using folder = await temporaryFolder();
    const before = childrenOf(process.pid);
    const syncer = createFileSystemSyncer(folder.path);
    await syncer.sync();
    const [shell = 0] = childrenOf(process.pid).filter((pid) => !before.includes(pid));
    process.kill(shell, 'SIGSTOP');
    const asked = syncer.sync();
    process.kill(shell, 'SIGKILL');
    await expect(asked).rejects.toMatchObject({ code: 'EIO' });
    await syncer.sync();
  });

  it('keeps its process alive while it syncs and no longer, and its shell ends with it, however it ends', async () => {
    const module = fileURLToPath(new URL('./file-system-syncer.ts', import.meta.url));
    const begin = `import { createFileSystemSyncer } from ${JSON.stringify(module)};
      const syncer = createFileSystemSyncer('/');
      await syncer.sync();`;
    expect(execFileSync(process.execPath, programOf(`${begin} console.log('synced')`), { encoding: 'utf8' })).toBe(
      'synced\n',
    );

    const idle = spawn(process.execPath, programOf(`${begin} console.log('synced'); setInterval(() => {}, 1000)`));
    await once(idle.stdout, 'data');
    const [shell = 0] = childrenOf(idle.pid);
    expect(shell).toBeGreaterThan(0);
    idle.kill('SIGKILL');
    await once(idle, 'exit');
    while (isRunning(shell)) await wait(20);
  });
});

function programOf(script: string): string[] {
  return ['--input-type=module', '-e', script];
}

function isRunning(pid: number): boolean {
  try {
    return !readFileSync(`/proc/${pid}/stat`, 'utf8').includes(') Z ');
  } catch {
    return false;
  }
}
