import { spawnSync } from 'node:child_process';
import { cpSync, existsSync } from 'node:fs';
import { chmod, mkdir, mkdtemp, readdir, rm, symlink } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';

// The installation itself was tried on a bare system; here is what must hold everywhere and can be tried without changing one.

const NOBODY = 65_534;
let folder = '';

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'quayside-install-'));
  await chmod(folder, 0o755);
  const scripts = (await readdir(import.meta.dirname)).filter((name) => name.endsWith('.mjs'));
  for (const name of scripts) cpSync(join(import.meta.dirname, name), join(folder, 'e2e/setup', name));
  await mkdir(join(folder, 'bin'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

interface Ended {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs the bootstrap as a user without rights, who finds only the programs in `bin`. */
function installWithout(...args: readonly string[]): Ended {
  const user = process.getuid?.() === 0 ? { uid: NOBODY, gid: NOBODY } : {};
  const env = { PATH: join(folder, 'bin') };
  return spawnSync(NODE, [join(folder, 'e2e/setup/install.mjs'), ...args], { ...user, env, encoding: 'utf8' });
}

/** The system's Node, since others may not be allowed to look into this checkout. */
const NODE = ['/usr/bin/node', '/usr/local/bin/node'].find(existsSync) ?? process.execPath;
const hasRedisElsewhere = ['/usr/local/bin', '/usr/sbin', '/sbin', '/opt/homebrew/bin'].some((path) =>
  existsSync(join(path, 'redis-server')),
);
const isDebian = existsSync('/usr/bin/apt-get') && !hasRedisElsewhere && NODE !== process.execPath;

test('a purpose that is none is refused with the usage', () => {
  expect(installWithout('--for', 'fun')).toMatchObject({
    status: 1,
    stderr: expect.stringContaining('[--for demo|test|bench|torture] (got "--for fun")'),
  });
});

test.skipIf(!isDebian)(
  'without rights it prints the exact command and stops (needs a Debian-like system with its own Node)',
  async () => {
    await symlink('/usr/bin/apt-get', join(folder, 'bin/apt-get'));
    const { status, stdout, stderr } = installWithout('--for', 'demo');
    expect([status, stdout]).toStrictEqual([1, '']);
    expect(stderr).toContain('\n  sudo apt-get update && sudo apt-get install -y redis-server ffmpeg\n');
    const bench = installWithout('--for', 'bench');
    expect(bench.stderr).toContain('install -y redis-server ffmpeg xxhash rsync fio rclone\n');
    await rm(join(folder, 'bin/apt-get'));
  },
);

test.skipIf(!isDebian)('without any package manager it names what is missing and why', () => {
  const { status, stderr } = installWithout();
  expect(status).toBe(1);
  expect(stderr).toContain('neither apt-get nor Homebrew');
  expect(stderr).toContain('ffmpeg: ffmpeg makes real media for the demo and the tests');
});
