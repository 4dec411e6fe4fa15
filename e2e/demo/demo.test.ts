import { execFile } from 'node:child_process';
import { existsSync } from 'node:fs';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { NO_BROWSER, openBrowser } from '../board/open-browser.ts';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const RUNS_WITHIN_MS = 600_000;
const whyNot = ['ffmpeg', 'redis-server'].filter(
  (name) => !(process.env['PATH'] ?? '').split(':').some((folder) => existsSync(join(folder, name))),
);

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'quayside-demo-'));
});
afterAll(async () => rm(folder, { recursive: true, force: true }));

interface Outcome {
  readonly code: number;
  readonly output: string;
}

/** What `npm run demo` runs once everything is installed. */
function runDemo(...args: readonly string[]): Promise<Outcome> {
  const words = ['run', '--silent', 'demo', '--workspace', 'e2e', '--', '--folder', join(folder, 'demo'), ...args];
  return new Promise((resolve) => {
    execFile('npm', words, { cwd: ROOT, maxBuffer: 2 ** 26 }, (error, stdout, stderr) => {
      resolve({ code: error === null ? 0 : Number(error.code ?? 1), output: stdout + stderr });
    });
  });
}

const RECORDERS = ['wheel', 'hands', 'wide', 'kiln', 'desk'];

function verdictsIn({ output }: Outcome): readonly string[] {
  return RECORDERS.map((name) => new RegExp(`^  ${name} +(CLEAR|HOLD) `, 'm').exec(output)?.[1] ?? 'none');
}

it.skipIf(whyNot.length > 0)(
  `the demo clears five rolls, starting clean, and without its one setting for one disk it holds them${whyNot.length > 0 ? ` (skipped: ${whyNot.join(' and ')} missing)` : ''}`,
  async () => {
    // The same configuration but for `sameDevice: accept`: two destinations on one device count as one copy.
    const held = await runDemo('--two-devices', '--takes', '2');
    expect(held.output).toContain('May I record over this drive?');
    expect(verdictsIn(held)).toEqual(RECORDERS.map(() => 'HOLD'));
    expect(held.output).toMatch(/HOLD +.*one device/i);
    expect(held.code).toBe(1);

    await writeFile(join(folder, 'demo', 'destinations', 'primary', 'left-over'), 'of the run before');
    const cleared = await runDemo('--takes', '2');
    expect(cleared.output).toContain('two separate devices');
    expect(verdictsIn(cleared)).toEqual(RECORDERS.map(() => 'CLEAR'));
    expect(cleared.code).toBe(0);
    expect(cleared.output).toContain('loudness measured 10 sound tracks');
    const sheets = [...cleared.output.matchAll(/^ {4}(\/.*\.svg)$/gm)].map(([, path = '']) => path);
    expect(sheets).toHaveLength(2);
    expect(await readFile(sheets[0] ?? '', 'utf8')).toContain('>wheel 10:00:00:06</text>');
    const report = /^ {2}The pictures and figures stand in the report: (.+)$/m.exec(cleared.output)?.[1] ?? '';
    const page = await readFile(report, 'utf8');
    for (const path of sheets) expect(page).toContain(`${encodeURIComponent(basename(path))}" alt=`);
    if (NO_BROWSER === null) expect(await picturesThatLoad(report)).toBe(2);
    expect(page).toMatch(/-[0-9.]+ LUFS/);
    expect(cleared.output).toMatch(/^ {2}8 of 8 made: /m);
    expect(existsSync(join(folder, 'demo', 'destinations', 'primary', 'left-over'))).toBe(false);
    expect(await mountedBelow(folder)).toEqual([]);
  },
  RUNS_WITHIN_MS,
);

it('the demo leaves a folder alone that it has not made', async () => {
  await rm(join(folder, 'demo'), { recursive: true, force: true });
  await writeFile(join(folder, 'footage.mov'), 'precious');
  const outcome = await runDemo('--folder', folder);
  expect(outcome.code).toBe(1);
  expect(outcome.output).toContain('no demo has made');
  expect(await readFile(join(folder, 'footage.mov'), 'utf8')).toBe('precious');
}, 60_000);

/** How many of the report's pictures a browser shows. */
async function picturesThatLoad(report: string): Promise<number> {
  await using browser = await openBrowser();
  const page = await browser.newPage();
  await page.goto(pathToFileURL(report).href);
  const images = await page.locator('img').all();
  for (const image of images) {
    await image.scrollIntoViewIfNeeded();
    await expect
      .poll(() => image.evaluate((one) => 'naturalWidth' in one && Number(one.naturalWidth)))
      .toBeGreaterThan(0);
  }
  return images.length;
}

async function mountedBelow(path: string): Promise<readonly string[]> {
  const table = await readFile('/proc/self/mountinfo', 'utf8').catch(() => '');
  return table.split('\n').filter((line) => (line.split(' ')[4] ?? '').startsWith(path));
}
