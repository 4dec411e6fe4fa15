import { spawnSync } from 'node:child_process';
import { cp, mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { existsSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterEach, beforeEach, expect, test } from 'vitest';

let root = '';

beforeEach(async () => {
  root = await mkdtemp(join(tmpdir(), 'quayside-sum-'));
  await put('e2e/package.json', '{}');
  await cp(join(import.meta.dirname, 'sum.mjs'), join(root, 'e2e/setup/sum.mjs'));
});
afterEach(() => rm(root, { recursive: true, force: true }));

async function put(path: string, text: string): Promise<void> {
  await mkdir(dirname(join(root, path)), { recursive: true });
  await writeFile(join(root, path), text);
}

/** A workspace with one test file, and the report that the runner left, or none. */
async function suite(name: string, left: object | null): Promise<void> {
  await put(`${name}/package.json`, '{}');
  await put(`${name}/src/deep/one.test.ts`, '');
  if (left !== null) await put(`${name}/.results/vitest.json`, JSON.stringify(left));
}

function report(passed: number, failed: readonly string[] = [], skipped = 0): object {
  const assertionResults = failed.map((fullName) => ({ status: 'failed', fullName }));
  const file = {
    name: 'one.test.ts',
    status: failed.length === 0 ? 'passed' : 'failed',
    startTime: 1000,
    endTime: 2500,
    assertionResults,
  };
  return {
    success: failed.length === 0,
    numPassedTests: passed,
    numPendingTests: skipped,
    numTodoTests: 0,
    testResults: [file],
  };
}

function sum(...args: readonly string[]): { code: number | null; lines: string[] } {
  const { status, stdout } = spawnSync(process.execPath, [join(root, 'e2e/setup/sum.mjs'), ...args], {
    encoding: 'utf8',
  });
  return { code: status, lines: stdout.trimEnd().split('\n') };
}

test('passed tests of all workspaces are added up, and the last line is the plain sum', async () => {
  await suite('packages/shoot', report(3));
  await suite('apps/watcher', report(4, [], 2));
  await suite('e2e', report(1));
  const { code, lines } = sum();
  expect(code).toBe(0);
  expect(lines.at(-1)).toBe('8 passed, 0 failed, 2 skipped');
  expect(lines.filter((line) => /^(packages\/shoot|apps\/watcher|e2e) /.test(line))).toHaveLength(3);
});

test('a failed test is named and fails the sum', async () => {
  await suite('plugins/ingest', report(3, ['ingest keeps what is there']));
  expect(sum()).toMatchObject({
    code: 1,
    lines: expect.arrayContaining([
      'FAILED plugins/ingest: ingest keeps what is there',
      '3 passed, 1 failed, 0 skipped',
    ]),
  });
});

test('a workspace whose tests left no report, or half of one, has failed', async () => {
  await suite('packages/shoot', report(3));
  await suite('packages/volumes', null);
  await suite('packages/pipeline', {});
  await put('packages/pipeline/.results/vitest.json', '{"numPassedTests": 7,');
  const { code, lines } = sum();
  expect([code, lines.at(-1)]).toStrictEqual([1, '3 passed, 2 failed, 0 skipped']);
});

test('a test file that could not be run counts as a failure beside the tests that ran', async () => {
  const crashed = {
    name: join('packages', 'two.test.ts'),
    status: 'failed',
    startTime: 1000,
    endTime: 1000,
    assertionResults: [],
  };
  await suite('packages/shoot', {
    success: false,
    numPassedTests: 5,
    numPendingTests: 0,
    numTodoTests: 0,
    testResults: [crashed],
  });
  const { code, lines } = sum();
  expect([code, lines.at(-1)]).toStrictEqual([1, '5 passed, 1 failed, 0 skipped']);
});

test('a run that ended badly though every test passed has failed', async () => {
  await suite('packages/shoot', report(3));
  expect(sum('--ended', '0').lines.at(-1)).toBe('3 passed, 0 failed, 0 skipped');
  expect(sum('--ended', '130')).toMatchObject({
    code: 1,
    lines: expect.arrayContaining(['3 passed, 1 failed, 0 skipped']),
  });
});

test('a workspace without tests is not asked for a report', async () => {
  await put('packages/shoot/package.json', '{}');
  await put('packages/shoot/node_modules/other/one.test.ts', '');
  expect(sum()).toMatchObject({ code: 0, lines: expect.arrayContaining(['0 passed, 0 failed, 0 skipped']) });
});

test('reports of an earlier run can be cleaned away', async () => {
  await suite('packages/shoot', report(3));
  expect(sum('--clean')).toStrictEqual({ code: 0, lines: [''] });
  expect(existsSync(join(root, 'packages/shoot/.results'))).toBe(false);
  expect(sum().lines.at(-1)).toBe('0 passed, 1 failed, 0 skipped');
});
