// One table of what every workspace's tests came to, and as the last line the plain sum. Reads the reports that vitest
// wrote; `--clean` only deletes those of an earlier run; `--ended CODE` tells how the run of the tests itself ended.
import { existsSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { join, relative } from 'node:path';
import process from 'node:process';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));

function main(args) {
  const workspaces = workspaceFolders();
  if (args.includes('--clean')) {
    for (const folder of workspaces) rmSync(join(folder, '.results'), { recursive: true, force: true });
    return;
  }
  const ended = args.includes('--ended') ? Number(args[args.indexOf('--ended') + 1]) : 0;
  const suites = workspaces.filter(hasTests).map(suiteOf);
  const sum = { passed: total(suites, 'passed'), failed: total(suites, 'failed'), skipped: total(suites, 'skipped') };
  // An error outside any test, say in a hook of the runner, is in no report; only the exit code tells of it.
  if (ended !== 0 && sum.failed === 0) {
    suites.push({
      name: 'the run itself',
      passed: 0,
      failed: 1,
      skipped: 0,
      seconds: 0,
      faults: [`the test run ended with code ${ended}`],
    });
    sum.failed = 1;
  }
  process.stdout.write(`${tableOf(suites)}\n`);
  for (const { name, faults } of suites) for (const fault of faults) process.stdout.write(`FAILED ${name}: ${fault}\n`);
  process.stdout.write(`${sum.passed} passed, ${sum.failed} failed, ${sum.skipped} skipped\n`);
  if (sum.failed > 0) process.exitCode = 1;
}

function workspaceFolders() {
  const below = ['packages', 'plugins', 'apps'].flatMap((group) => foldersIn(join(ROOT, group)));
  return [...below, join(ROOT, 'e2e')].filter((folder) => existsSync(join(folder, 'package.json')));
}

function foldersIn(folder) {
  if (!existsSync(folder)) return [];
  return readdirSync(folder, { withFileTypes: true })
    .filter((entry) => entry.isDirectory())
    .map((entry) => join(folder, entry.name));
}

function hasTests(folder) {
  return readdirSync(folder, { withFileTypes: true }).some((entry) => {
    if (entry.isDirectory())
      return !['node_modules', 'dist'].includes(entry.name) && hasTests(join(folder, entry.name));
    return entry.name.endsWith('.test.ts');
  });
}

function suiteOf(folder) {
  const name = relative(ROOT, folder);
  const report = reportIn(folder);
  if (report === null)
    return { name, passed: 0, failed: 1, skipped: 0, seconds: 0, faults: ['it has tests but left no report'] };
  const files = report.testResults ?? [];
  const failedTests = files.flatMap((file) =>
    file.assertionResults
      .filter((one) => one.status === 'failed')
      .map((one) => [one.fullName, ...firstLines(one.failureMessages)].join('\n    ')),
  );
  const crashedFiles = files
    .filter((file) => file.status === 'failed' && !file.assertionResults.some((one) => one.status === 'failed'))
    .map((file) => `${relative(folder, file.name)} could not be run`);
  const faults = [...failedTests, ...crashedFiles];
  if (report.success === false && faults.length === 0) faults.push('the run failed without naming a test');
  const times = files.flatMap((file) => [file.startTime, file.endTime]);
  return {
    name,
    passed: report.numPassedTests,
    failed: faults.length,
    skipped: report.numPendingTests + (report.numTodoTests ?? 0),
    seconds: times.length === 0 ? 0 : (Math.max(...times) - Math.min(...times)) / 1000,
    faults,
  };
}

/** Enough to tell why from a log of the sum alone. */
function firstLines(messages = []) {
  return messages.flatMap((message) => message.split('\n').slice(0, 30));
}

function reportIn(folder) {
  try {
    return JSON.parse(readFileSync(join(folder, '.results/vitest.json'), 'utf8'));
  } catch {
    // Absent, or cut short by a crash: either way this run proved nothing.
    return null;
  }
}

function total(suites, key) {
  return suites.reduce((sum, suite) => sum + suite[key], 0);
}

function tableOf(suites) {
  const width = Math.max(5, ...suites.map(({ name }) => name.length));
  const row = (name, ...cells) => [name.padEnd(width), ...cells.map((cell) => String(cell).padStart(8))].join(' ');
  const rows = suites.map(({ name, passed, failed, skipped, seconds }) =>
    row(name, passed, failed, skipped, seconds.toFixed(1)),
  );
  return [row('suite', 'passed', 'failed', 'skipped', 'seconds'), ...rows].join('\n');
}

main(process.argv.slice(2));
