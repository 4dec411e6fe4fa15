import { execFile, spawnSync } from 'node:child_process';
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Ended, quayside } from '../quayside.test-support.ts';

const run = promisify(execFile);
const missing = ['npm', 'ffmpeg', 'ffprobe'].filter((tool) => spawnSync(tool, ['-version']).error !== undefined);

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'quayside-plugin-new-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const make = async (name: string): Promise<Ended> => quayside(['plugin', 'new', name, '--in', folder]);

it('refuses a name that is none, and a folder that is there, and changes nothing in it', async () => {
  const bad = await make('Too Short');
  expect(bad).toMatchObject({ code: 1, stdout: '' });
  expect(bad.stderr).toContain(`"Too Short" cannot be a plugin's name`);
  await run('mkdir', [join(folder, 'taken')]);
  await writeFile(join(folder, 'taken/mine'), 'kept');
  const taken = await make('taken');
  expect(taken.stderr).toContain('is there already. Nothing in it was changed');
  expect(await readdir(join(folder, 'taken'))).toEqual(['mine']);
});

describe.skipIf(missing.length > 0)(
  `a new plugin${missing.length > 0 ? ` (skipped: ${missing.join(', ')} not installed)` : ''}`,
  () => {
    // Building, packing and installing are the work of other programs, on a machine that is busy.
    it(
      'is installed from the packed SDK in a clean folder, type-checked, and passes its own tests',
      { timeout: 240_000 },
      async ({ skip }) => {
        const ended = await make('too-short');
        expect(ended).toMatchObject({ code: 0, stderr: '' });
        const plugin = join(folder, 'too-short');
        expect(ended.stdout).toContain(`cd ${plugin}`);

        const why = await install(plugin);
        if (why !== null) skip(`The registry cannot be reached, and npm's cache does not hold what is missing: ${why}`);
        // What is packed stands on nothing of this workspace.
        const installed = await readFile(join(plugin, 'node_modules/@quayside/step-sdk/package.json'), 'utf8');
        expect(installed).not.toMatch(/"source"|workspace|"\*"/);
        expect(await readdir(join(plugin, 'node_modules/@quayside'))).toEqual(['guest-host', 'shoot', 'step-sdk']);

        // Our own declarations are looked at as well, which a plugin's author need not do.
        await npm(plugin, 'run', 'check', '--', '--skipLibCheck', 'false');
        const { stdout } = await npm(plugin, 'test');
        expect(stdout).toMatch(/pass 3\n/);

        const step = join(plugin, 'src/index.ts');
        const text = await readFile(step, 'utf8');
        await writeFile(step, text.replace('return { seconds };', "return { seconds: 'two' };"));
        await expect(npm(plugin, 'run', 'check')).rejects.toMatchObject({
          stdout: expect.stringContaining("Type 'string' is not assignable to type 'number'"),
        });
      },
    );
  },
);

async function npm(cwd: string, ...args: readonly string[]): Promise<{ readonly stdout: string }> {
  return run('npm', args, { cwd });
}

/** Installs from npm's cache, else from the registry. Returns why it cannot be reached, or null. */
async function install(plugin: string): Promise<string | null> {
  const options = ['--no-audit', '--no-fund', '--ignore-scripts'];
  try {
    await npm(plugin, 'install', '--offline', ...options);
    return null;
  } catch {
    try {
      await npm(plugin, 'install', '--fetch-retries', '1', ...options);
      return null;
    } catch (error) {
      const told = error instanceof Error && 'stderr' in error ? String(error.stderr) : String(error);
      const reason = /\b(ENOTFOUND|EAI_AGAIN|ECONNREFUSED|ECONNRESET|ETIMEDOUT|ENETUNREACH|ERR_SOCKET_TIMEOUT)\b/.exec(
        told,
      );
      if (reason === null) throw error;
      return reason[0];
    }
  }
}
