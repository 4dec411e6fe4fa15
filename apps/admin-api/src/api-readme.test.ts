import { execFile } from 'node:child_process';
import { mkdtemp, readFile, rm, symlink, mkdir, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { writeAddress } from './address-file.ts';
import { startTestApi, type TestApi, TOKEN } from './api.test-support.ts';
import { fillWorld } from './api-world.test-support.ts';

const run = promisify(execFile);
const README = await readFile(join(import.meta.dirname, '../README.md'), 'utf8');
const LINES = (/```sh\n([^]*?)```/.exec(README)?.[1] ?? '').split('\n').filter((line) => line !== '');
const SETTINGS = LINES.filter((line) => /^[A-Z]+=/.test(line));
const REQUESTS = LINES.filter((line) => line.startsWith('curl '));

/** With curl 7.82 came `--json`. */
const [, major = 0, minor = 0] = /^curl (\d+)\.(\d+)/.exec((await run('curl', ['--version'])).stdout) ?? [];
const hasJson = Number(major) > 7 || Number(minor) >= 82;

let api: TestApi;
let home: string;
beforeAll(async () => {
  api = await startTestApi();
  await fillWorld(api);
  await writeFile(join(api.folder, 'token'), `${TOKEN}\n`);
  await writeAddress(api.folder, api.url);
  // A home in which the service keeps its data where it does by default.
  home = await mkdtemp(join(tmpdir(), 'quayside-home-'));
  await mkdir(join(home, '.local/state'), { recursive: true });
  await symlink(api.folder, join(home, '.local/state/quayside'));
  await writeFile(join(home, '.curlrc'), 'fail-with-body\nsilent\nshow-error\nmax-time = 20\n');
});
afterAll(async () => {
  await api[Symbol.asyncDispose]();
  await rm(home, { recursive: true });
});

it('the README has settings and requests, and nothing else', () => {
  expect([...SETTINGS, ...REQUESTS]).toEqual(LINES);
  expect(REQUESTS.length).toBeGreaterThan(35);
});

it.skipIf(!hasJson)(
  'each example of the README is answered with success, as written and in its order',
  { timeout: 300_000 },
  async () => {
    const failed: string[] = [];
    for (const line of REQUESTS) {
      const isStream = line.includes(' -N ');
      const script = [...SETTINGS, isStream ? line.replace('curl', 'timeout 2 curl') : line].join('\n');
      const options = { cwd: home, env: { HOME: home, PATH: '/usr/local/bin:/usr/bin:/bin' } };
      const answer = await run('bash', ['-c', script], options).catch((error: unknown) => error as Failed);
      // A stream does not end by itself: it is ended here, and has begun.
      const isGood = 'code' in answer ? isStream && answer.code === 124 && answer.stdout !== '' : true;
      if (!isGood) failed.push(`${line}: ${answer.stdout} ${answer.stderr}`);
    }
    expect(failed).toEqual([]);
  },
);

interface Failed {
  readonly code: number;
  readonly stdout: string;
  readonly stderr: string;
}
