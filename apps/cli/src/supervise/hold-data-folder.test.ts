import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { holdDataFolder } from './hold-data-folder.ts';

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'quayside-hold-'));
});
afterEach(async () => rm(folder, { recursive: true }));

it('makes the folder for this user only, and holds it until it is released', async () => {
  const data = join(folder, 'deep', 'data');
  const hold = await holdDataFolder(data);
  expect((await stat(data)).mode & 0o777).toBe(0o700);
  await expect(holdDataFolder(data)).rejects.toThrow(`process ${process.pid}`);
  hold.release();
  (await holdDataFolder(data)).release();
});

it('names the process that holds it, and is free again when that one is killed without warning', async () => {
  const script = `import { holdDataFolder } from ${JSON.stringify(new URL('hold-data-folder.ts', import.meta.url).href)}; await holdDataFolder(${JSON.stringify(folder)}); console.log('held'); setInterval(() => {}, 1000);`;
  const other = spawn(process.execPath, ['--conditions=source', '--input-type=module', '-e', script], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  await once(other.stdout, 'data');
  await expect(holdDataFolder(folder)).rejects.toThrow(`kill ${other.pid}`);
  other.kill('SIGKILL');
  await once(other, 'exit');
  (await holdDataFolder(folder)).release();
});

it('says why a folder cannot be used', async () => {
  await writeFile(join(folder, 'file'), '');
  await expect(holdDataFolder(join(folder, 'file'))).rejects.toThrow(/data folder .* cannot be used/);
});
