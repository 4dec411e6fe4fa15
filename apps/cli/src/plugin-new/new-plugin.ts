import { execFile } from 'node:child_process';
import { mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { dirname, join, relative } from 'node:path';
import { promisify } from 'node:util';
import { FolderName, QuaysideError } from '@quayside/shoot';
import { packSdk } from './pack-sdk.ts';

const run = promisify(execFile);
const ROOT = join(import.meta.dirname, '../../../..');
const TEMPLATE = join(import.meta.dirname, '../../plugin-template');
/** The first that runs TypeScript as it is, and has the permission model that guests are fenced with. */
const OLDEST_NODE = 24;

/**
 * Makes a folder with a plugin that can be installed, type-checked and tested: the SDK lies in it, packed.
 * @throws QuaysideError `PLUGIN_NAME_INVALID`, `PLUGIN_FOLDER_TAKEN`, `PLUGIN_SDK_NOT_PACKED`; it leaves no folder then
 */
export async function newPlugin(name: string, folder: string): Promise<void> {
  throwIfInvalid(name);
  await makeFolder(folder);
  try {
    await mkdir(join(folder, 'sdk'));
    const packed = await packSdk(join(folder, 'sdk'));
    const files = await readdir(TEMPLATE, { recursive: true, withFileTypes: true });
    const words = { NAME: name, ...(await versions()) };
    for (const file of files.filter((one) => one.isFile())) {
      const path = join(file.parentPath, file.name);
      const target = join(folder, relative(TEMPLATE, path).replace(/\.template$/, ''));
      const text = filledIn(await readFile(path, 'utf8'), words);
      await mkdir(dirname(target), { recursive: true });
      await writeFile(target, file.name.startsWith('package.json') ? await manifestFrom(text, packed) : text);
    }
  } catch (error) {
    await rm(folder, { recursive: true, force: true });
    throw error;
  }
}

function throwIfInvalid(name: string): void {
  if (FolderName.safeParse(name).success) return;
  const sentence = `"${name}" cannot be a plugin's name: write lower-case letters, digits and hyphens, 64 at most.`;
  throw new QuaysideError({ code: 'PLUGIN_NAME_INVALID', sentence, retry: 'never' });
}

async function makeFolder(folder: string): Promise<void> {
  try {
    await mkdir(dirname(folder), { recursive: true });
    await mkdir(folder);
  } catch (cause) {
    const sentence = `The folder ${folder} could not be made, or is there already. Nothing in it was changed; give another name or "--in".`;
    throw new QuaysideError({ code: 'PLUGIN_FOLDER_TAKEN', sentence, retry: 'never' }, { cause });
  }
}

/** The versions that Quayside itself is made with. */
async function versions(): Promise<Readonly<Record<string, string>>> {
  const ours = await dependenciesOf(join(ROOT, 'package.json'));
  const { zod = '' } = await dependenciesOf(join(ROOT, 'packages/shoot/package.json'));
  return {
    TYPESCRIPT: ours['typescript'] ?? '',
    NODE_TYPES: ours['@types/node'] ?? '',
    NODE: ours['node'] ?? '',
    ZOD: zod,
  };
}

async function dependenciesOf(file: string): Promise<Readonly<Record<string, string>>> {
  const { dependencies, devDependencies }: Manifest = JSON.parse(await readFile(file, 'utf8'));
  return { ...dependencies, ...devDependencies };
}

interface Manifest {
  readonly dependencies?: Readonly<Record<string, string>>;
  readonly devDependencies?: Readonly<Record<string, string>>;
}

function filledIn(text: string, words: Readonly<Record<string, string>>): string {
  return text.replaceAll(/__([A-Z_]+?)__/g, (whole, word: string) => words[word] ?? whole);
}

/** With the packed SDK, and with Node itself where the system's is too old to run TypeScript. */
async function manifestFrom(text: string, packed: Readonly<Record<string, string>>): Promise<string> {
  const manifest: Manifest = JSON.parse(text);
  const sdk = Object.entries(packed).map(([name, file]) => [name, `file:sdk/${file}`] as const);
  const { node = '', ...tools } = manifest.devDependencies ?? {};
  const filled = {
    ...manifest,
    dependencies: { ...Object.fromEntries(sdk.filter((one) => !isForTests(one))), ...manifest.dependencies },
    devDependencies: {
      ...Object.fromEntries(sdk.filter(isForTests)),
      ...tools,
      ...((await isNodeOldHere()) ? { node } : {}),
    },
  };
  return `${JSON.stringify(filled, null, 2)}\n`;
}

/** The host is for tests only: in use, the plugin runs in the service's. */
function isForTests([name]: readonly [string, string]): boolean {
  return name.endsWith('/guest-host');
}

async function isNodeOldHere(): Promise<boolean> {
  const { stdout } = await run('node', ['--version']).catch(() => ({ stdout: '' }));
  return Number(/^v(\d+)/.exec(stdout)?.[1] ?? 0) < OLDEST_NODE;
}
