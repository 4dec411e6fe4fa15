import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import { delimiter, join, resolve, sep } from 'node:path';
import process from 'node:process';
import { fileURLToPath } from 'node:url';
import { runShown } from './run.mjs';
import { Stop } from './stop.mjs';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const LOCK = join(ROOT, 'package-lock.json');
const STAMP = join(ROOT, 'node_modules/.quayside-stamp');
const NEEDED_NODE = 24;

/** Makes `node_modules` what the lock file says, by `npm ci`, unless it already is. */
export function installNpmPackages() {
  const lock = readFileSync(LOCK);
  const stamp = createHash('sha256').update(lock).digest('hex');
  if (textOf(STAMP) === stamp) return;
  if (!isInstalledAsLocked(lock)) runNpmCi();
  writeFileSync(STAMP, stamp);
}

/** What keeps Node 24 from being there, and what to do, or null when it is there. */
export function nodeFault() {
  const brought = majorOf(spawnSync(join(ROOT, 'node_modules/.bin/node'), ['--version'], { encoding: 'utf8' }).stdout);
  if (brought >= NEEDED_NODE) return null;
  // Without the one that the repo brings, scripts find the system's own, which may be new enough.
  if (brought === 0 && majorOf(process.version) >= NEEDED_NODE) return null;
  return [
    `Node ${NEEDED_NODE} is not there: ${brought === 0 ? 'node_modules/.bin/node does not run' : `node_modules/.bin/node is Node ${brought}`}.`,
    'It comes as the npm package "node", whose own install script fetches the binary, so npm must be allowed to run that one script',
    '(package.json names it under "allowScripts"; the setting ignore-scripts forbids it). Run this once, then try again:',
    '',
    '  npm rebuild node --ignore-scripts=false',
    '',
    `Or put Node ${NEEDED_NODE} or newer first on the PATH.`,
  ].join('\n');
}

/** The same question that `npm ci` would settle by deleting everything: is each locked package there in its locked form? */
function isInstalledAsLocked(lock) {
  const installed = textOf(join(ROOT, 'node_modules/.package-lock.json'));
  if (installed === null) return false;
  const there = JSON.parse(installed).packages;
  return Object.entries(JSON.parse(lock.toString()).packages).every(([path, wanted]) => {
    if (!path.startsWith('node_modules/')) return true;
    const found = there[path];
    // Packages for other systems are optional, and are rightly absent.
    if (found === undefined) return wanted.optional === true;
    return (
      found.version === wanted.version && found.integrity === wanted.integrity && found.resolved === wanted.resolved
    );
  });
}

function runNpmCi() {
  process.stdout.write(
    `Installing the npm packages that package-lock.json names, among them Node ${NEEDED_NODE} (npm ci) ...\n`,
  );
  // npm deletes node_modules first, so it must not run on the Node that lies in there.
  const path = (process.env.PATH ?? '')
    .split(delimiter)
    .filter((folder) => !resolve(folder).startsWith(join(ROOT, 'node_modules') + sep));
  const env = { ...process.env, PATH: path.join(delimiter) };
  if (runShown('npm', ['ci', '--loglevel=error'], { cwd: ROOT, env })) return;
  throw new Stop('`npm ci` failed; its own words are above. Without a network it cannot work; with one, try again.');
}

function textOf(file) {
  try {
    return readFileSync(file, 'utf8');
  } catch (error) {
    if (error.code === 'ENOENT') return null;
    throw error;
  }
}

function majorOf(version) {
  return Number(/^v(\d+)\./.exec(version ?? '')?.[1] ?? 0);
}
