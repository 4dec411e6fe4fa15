// The bootstrap behind `npm run demo`, `npm test`, `npm run bench` and `npm run torture`. Plain JavaScript on Node 20 and no packages, since
// it runs before there are any. Silent when nothing is missing.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import process from 'node:process';
import { fileURLToPath } from 'node:url';
import { installNpmPackages, nodeFault } from './npm-packages.mjs';
import { installSystemTools, missingTools, nameSkippedTests } from './system-tools.mjs';
import { Stop } from './stop.mjs';

const PURPOSES = ['demo', 'test', 'bench', 'torture'];

/** Installs what the purpose needs, saying what and why. Throws a `Stop` whose message tells a person what to do. */
function install(purpose) {
  const { wanted, merelyNamed } = missingTools(purpose);
  // First, since it may end with a command for a person to run: better at once than after the downloads.
  if (wanted.length > 0) installSystemTools(wanted);
  installNpmPackages();
  const fault = nodeFault();
  if (fault !== null) throw new Stop(fault);
  if (merelyNamed.length > 0) nameSkippedTests(merelyNamed);
  makePage();
}

/** The status page, when its sources are newer than it is. Without it all else works, so a failure is only told. */
function makePage() {
  const root = fileURLToPath(new URL('../../', import.meta.url));
  const brought = `${root}node_modules/.bin/node`;
  const node = existsSync(brought) ? brought : process.execPath;
  spawnSync(node, [`${root}apps/board/making/make-page.mjs`, '--gently'], { stdio: 'inherit' });
}

function purposeFrom(args) {
  if (args.length === 0) return 'demo';
  const [flag, purpose] = args;
  if (args.length === 2 && flag === '--for' && PURPOSES.includes(purpose)) return purpose;
  throw new Stop(`Usage: node e2e/setup/install.mjs [--for ${PURPOSES.join('|')}] (got "${args.join(' ')}").`);
}

try {
  install(purposeFrom(process.argv.slice(2)));
} catch (error) {
  if (!(error instanceof Stop)) throw error;
  process.stderr.write(`\n${error.message}\n`);
  process.exitCode = 1;
}
