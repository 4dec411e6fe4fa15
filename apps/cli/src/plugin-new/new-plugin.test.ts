import { execFile, spawnSync } from 'node:child_process';
import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Ended, quayside } from '../quayside.test-support.ts';
import { readTutorial } from './tutorial.test-support.ts';

const run = promisify(execFile);
const missing = ['npm', 'ffmpeg', 'ffprobe'].filter((tool) => spawnSync(tool, ['-version']).error !== undefined);

const ROOT = join(import.meta.dirname, '../../../..');

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
    let plugin = '';
    const outputs = new Map<string, string>();

    // Building, packing and installing are the work of other programs, on a machine that is busy.
    it(
      'is made, installed from the packed SDK, type-checked and tested by the commands of the tutorial, and no others',
      { timeout: 300_000 },
      async ({ skip }) => {
        let cwd = ROOT;
        const env = await cleanEnvironment();
        for (const act of await readTutorial()) {
          if (act.kind === 'file') await writeFile(join(cwd, act.path), act.text);
          else if (act.command.startsWith('cd ~/')) cwd = join(folder, act.command.slice(5));
          else if (act.command === 'npm install') {
            const why = await install(cwd);
            if (why !== null)
              skip(`The registry cannot be reached, and npm's cache does not hold what is missing: ${why}`);
          } else outputs.set(`${cwd === ROOT ? '' : 'plugin: '}${act.command}`, await typed(act.command, { cwd, env }));
        }
        plugin = cwd;
        expect(plugin).toBe(join(folder, 'plugins/lens-cap'));
        expect([...outputs.keys()]).toEqual([
          'npm run quayside -- plugin new lens-cap --in ~/plugins',
          'plugin: npm run check',
          'plugin: npm test',
          'plugin: mv test/length.test.ts test/brightness.test.ts',
        ]);
        // The last one: of the two tests that the tutorial writes, in place of the three of the scaffold.
        expect(outputs.get('plugin: npm test')).toMatch(/pass 2\n/);
      },
    );

    it('stands on nothing of this workspace', async ({ skip }) => {
      if (plugin === '') skip('It was not installed.');
      const installed = await readFile(join(plugin, 'node_modules/@quayside/step-sdk/package.json'), 'utf8');
      expect(installed).not.toMatch(/"source"|workspace|"\*"/);
      expect(await readdir(join(plugin, 'node_modules/@quayside'))).toEqual(['guest-host', 'shoot', 'step-sdk']);
    });

    it(
      'is held to its types: those of the SDK are whole, and a wrong output does not compile',
      { timeout: 120_000 },
      async ({ skip }) => {
        if (plugin === '') skip('It was not installed.');
        await npm(plugin, 'run', 'check', '--', '--skipLibCheck', 'false');
        const step = join(plugin, 'src/index.ts');
        const text = await readFile(step, 'utf8');
        await writeFile(step, text.replace('return { brightness: value };', "return { brightness: 'dark' };"));
        await expect(npm(plugin, 'run', 'check')).rejects.toMatchObject({
          stdout: expect.stringContaining("Type 'string' is not assignable to type 'number'"),
        });
      },
    );
  },
);

/** What a command prints. When it fails, that is the reason. */
async function typed(
  command: string,
  options: { readonly cwd: string; readonly env: NodeJS.ProcessEnv },
): Promise<string> {
  const { status, stdout, stderr } = await run('sh', ['-c', command], options)
    .then((ended) => ({ ...ended, status: 0 }))
    .catch((error: { code: number; stdout: string; stderr: string }) => ({ ...error, status: error.code }));
  if (status !== 0) throw new Error(`"${command}" ended with ${status}:\n${stdout}${stderr}`);
  return stdout;
}

async function npm(cwd: string, ...args: readonly string[]): Promise<{ readonly stdout: string }> {
  return run('npm', args, { cwd, env: await cleanEnvironment() });
}

/** `~` is a clean folder, npm knows of nothing that it runs under, and what it has fetched before is still there. */
async function cleanEnvironment(): Promise<NodeJS.ProcessEnv> {
  const own = Object.fromEntries(Object.entries(process.env).filter(([name]) => !/^npm_|^INIT_CWD$/i.test(name)));
  const { stdout: cache } = await run('npm', ['config', 'get', 'cache'], { cwd: tmpdir(), env: own });
  return { ...own, HOME: folder, npm_config_cache: cache.trim() };
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
