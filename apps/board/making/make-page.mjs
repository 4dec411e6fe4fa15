// Builds the page into dist/page when what it was made from has changed. Plain JavaScript, because `npm ci` runs it with the
// Node that is there. With --gently a failure is told and forgiven: the service tries again when it starts.
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join, relative, resolve } from 'node:path';
import process from 'node:process';
import { fileURLToPath } from 'node:url';

const BOARD = fileURLToPath(new URL('..', import.meta.url));
const PAGE = join(BOARD, 'dist/page');
const MADE_FROM = join(PAGE, 'made-from.json');

/** Whether the page is there and each file that it was made from is still what it was. */
function isFresh() {
  try {
    const madeFrom = Object.entries(JSON.parse(readFileSync(MADE_FROM, 'utf8')));
    return madeFrom.length > 0 && madeFrom.every(([path, digest]) => digestOf(resolve(BOARD, path)) === digest);
  } catch {
    return false;
  }
}

async function makePage() {
  const { build, defaultClientConditions } = await import('vite');
  // Never half a page where the service serves it: it is made beside it, and then takes its place.
  const staged = `${PAGE}.${process.pid}`;
  try {
    const made = await build({
      root: join(BOARD, 'src'),
      configFile: false,
      logLevel: 'error',
      resolve: { conditions: ['source', ...defaultClientConditions] },
      oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
      build: {
        outDir: staged,
        emptyOutDir: true,
        // A data: address would need room in the content security policy.
        assetsInlineLimit: 0,
        modulePreload: { polyfill: false },
      },
    });
    const modules = [made].flat().flatMap(({ output }) => output.flatMap((part) => part.moduleIds ?? []));
    writeFileSync(join(staged, 'made-from.json'), JSON.stringify(digestsOf(modules), null, 1));
    putInPlace(staged);
  } finally {
    rmSync(staged, { recursive: true, force: true });
  }
}

function putInPlace(staged) {
  const old = `${staged}.old`;
  if (existsSync(PAGE)) renameSync(PAGE, old);
  renameSync(staged, PAGE);
  rmSync(old, { recursive: true, force: true });
}

/** What the page was made from: its own sources, the modules that they brought in, and this file. */
function digestsOf(modules) {
  const own = readdirSync(join(BOARD, 'src'), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && !entry.name.includes('.test'))
    .map((entry) => join(entry.parentPath, entry.name));
  const imported = modules.map((id) => id.split('?', 1)[0]).filter((path) => existsSync(path));
  const all = new Set([...own, ...imported, fileURLToPath(import.meta.url)]);
  return Object.fromEntries([...all].map((path) => [relative(BOARD, path), digestOf(path)]));
}

function digestOf(path) {
  return createHash('sha256').update(readFileSync(path)).digest('hex').slice(0, 32);
}

try {
  if (!isFresh()) await makePage();
} catch (error) {
  const isGentle = process.argv.includes('--gently');
  const why = String(error?.message ?? error).split('\n', 1)[0];
  process.stderr.write(`The status page could not be made: ${why}\n`);
  process.exitCode = isGentle ? 0 : 1;
}
