import { readFile, realpath, stat } from 'node:fs/promises';
import { basename, dirname, extname, isAbsolute, join, resolve } from 'node:path';
import { QuaysideError } from '@quayside/shoot';
import { entryOfPackage } from './entry-of-package.ts';
import { linkedPackages } from './linked-packages.ts';
import { manifestsAbove, nodeModulesAbove } from './node-modules-above.ts';
import { stateOfFiles } from './state-of-files.ts';

/** Where a plugin's code lies. Nothing of it has been run. */
export interface PluginSource {
  /** As the operator wrote it. */
  readonly use: string;
  /** The real path of the module whose default export is the plugin. */
  readonly entry: string;
  /** The files and folders that its process must read to load it: its own, and the packages that it uses. */
  readonly readable: readonly string[];
  /** Changes with the plugin's own files: a process that has loaded another state of them is not used again. */
  readonly state: string;
}

const FILE_KINDS = new Set(['.ts', '.mts', '.js', '.mjs']);

/**
 * Finds a plugin: a file, a package's folder (both relative to `from` or absolute), or an installed package by its name.
 * @throws QuaysideError `PLUGIN_NOT_FOUND` that says where it was sought.
 */
export async function findPlugin(use: string, from: string): Promise<PluginSource> {
  const isPath = use.startsWith('.') || isAbsolute(use);
  const places = isPath ? [resolve(from, use)] : installedAt(use, [from, import.meta.dirname]);
  for (const place of places) {
    const found = await sourceAt(use, place);
    if (found !== null) return found;
  }
  throw notFound(use, `There is no such ${isPath ? 'file or package folder' : 'package'} at ${places.join(' or ')}.`);
}

function installedAt(name: string, starts: readonly string[]): readonly string[] {
  return [...new Set(starts.flatMap((start) => nodeModulesAbove(start)))].map((folder) => join(folder, name));
}

async function sourceAt(use: string, path: string): Promise<PluginSource | null> {
  const status = await stat(path).catch(() => null);
  if (status === null) return null;
  const real = await realpath(path);
  if (status.isDirectory()) return packageAt(use, real);
  if (!FILE_KINDS.has(extname(real)))
    throw notFound(use, `${basename(real)} is no module: a plugin's file ends in .ts, .mts, .js or .mjs.`);
  // Of a file's folder nothing else may be read: the configuration may lie there, with its secrets.
  const modules = await existing([...manifestsAbove(dirname(real)), ...nodeModulesAbove(dirname(real))]);
  return { use, entry: real, readable: [real, ...modules], state: await stateOfFiles(real) };
}

async function packageAt(use: string, folder: string): Promise<PluginSource | null> {
  const text = await readFile(join(folder, 'package.json'), 'utf8').catch(() => null);
  if (text === null) return null;
  const entry = await entryOfPackage(folder, text);
  if (entry === null)
    throw notFound(
      use,
      `The package at ${folder} names no file that is there as its entry, in \`exports\` or \`main\`.`,
    );
  const modules = await existing([...manifestsAbove(dirname(folder)), ...nodeModulesAbove(folder)]);
  const readable = [folder, ...modules, ...(await linkedPackages(folder, text))];
  return { use, entry, readable, state: await stateOfFiles(folder) };
}

async function existing(folders: readonly string[]): Promise<readonly string[]> {
  const found = await Promise.all(folders.map((folder) => realpath(folder).catch(() => null)));
  return found.filter((folder) => folder !== null);
}

function notFound(use: string, why: string): QuaysideError {
  return new QuaysideError({
    code: 'PLUGIN_NOT_FOUND',
    sentence: `Plugin "${use}" cannot be found. ${why} Correct \`use\` in the configuration, or install it.`,
    retry: 'never',
  });
}
