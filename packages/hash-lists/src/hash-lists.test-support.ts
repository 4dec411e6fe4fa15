// The linter reads tests without the package's settings, so without the types of `await using`.
/// <reference lib="esnext.disposable" />
import { execFile, execFileSync } from 'node:child_process';
import { mkdir, mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import type { HashAlgorithm } from '@quayside/shoot';
import { blake3, md5, sha1, xxhash128, xxhash3, xxhash64 } from 'hash-wasm';
import { c4Of } from './c4.ts';
import { CHAIN_NAME, HISTORY_FOLDER } from './manifest.ts';
import type { NewFile, NewGeneration } from './new-generation.ts';

const run = promisify(execFile);

export const FIXTURES = fileURLToPath(new URL('../fixtures/', import.meta.url));
export const REELS = join(FIXTURES, 'scenario', 'Reels');
export const XSD = join(FIXTURES, 'xsd');

/** Whether a program is installed; a test that needs one that is not skips, and its title says which. */
export function has(program: string): boolean {
  try {
    execFileSync('sh', ['-c', `command -v ${program}`], { stdio: 'ignore' });
    return true;
  } catch {
    return false;
  }
}

export interface Roll {
  readonly root: string;
  readonly history: string;
  [Symbol.asyncDispose](): Promise<void>;
}

/** A new, empty roll folder; gone when the scope ends. */
export async function newRoll(name = 'wheel-1'): Promise<Roll> {
  const parent = await mkdtemp(join(tmpdir(), 'hash-lists-'));
  const root = join(parent, name);
  await mkdir(root);
  return {
    root,
    history: join(root, HISTORY_FOLDER),
    [Symbol.asyncDispose]: () => rm(parent, { recursive: true, force: true }),
  };
}

/** The digest of bytes, from the hash library itself. */
export async function digestOf(algorithm: HashAlgorithm, bytes: Uint8Array): Promise<string> {
  if (algorithm === 'c4') return c4Of(bytes);
  const make = { md5, sha1, xxh128: xxhash128, xxh3: xxhash3, xxh64: xxhash64 }[algorithm];
  return make(bytes);
}

/** A digest that looks right and depends on the text, for tests that read no file. */
export async function inventedDigest(text: string): Promise<string> {
  return (await blake3(text)).slice(0, 32);
}

export async function inventedFile(
  path: string,
  action: 'original' | 'verified' | 'failed' = 'original',
): Promise<NewFile> {
  return {
    path,
    sizeInBytes: path.length,
    modifiedMs: Date.parse('2026-03-05T10:20:30.123Z'),
    hashes: [{ algorithm: 'xxh128', value: await inventedDigest(path), action }],
  };
}

export function generationOf(files: readonly NewFile[], changes: Partial<NewGeneration> = {}): NewGeneration {
  return {
    startedAt: '2026-03-05T18:00:00.000Z',
    process: 'transfer',
    creator: { hostname: 'studio.local', tool: 'quayside', toolVersion: '0.1.0' },
    ignore: [],
    files,
    complete: true,
    ...changes,
  };
}

/** Throws xmllint's own message unless every file of the history validates against every schema for it. */
export async function throwUnlessValid(historyFolder: string): Promise<void> {
  for (const name of await readdir(historyFolder)) {
    const schemas = name === CHAIN_NAME ? CHAIN_SCHEMAS : MANIFEST_SCHEMAS;
    for (const schema of schemas) await validate(join(historyFolder, name), schema);
  }
}

export async function validate(file: string, schema: string): Promise<void> {
  const env = { ...process.env, XML_CATALOG_FILES: join(XSD, 'catalog.xml') };
  await run('xmllint', ['--nonet', '--noout', '--schema', join(XSD, schema), file], { env });
}

export const MANIFEST_SCHEMAS = ['ASCMHL.repo-409a833.xsd', 'ASCMHL.appendix-a-order.xsd'] as const;
export const CHAIN_SCHEMAS = ['ASCMHLDirectory.repo-6c78c6c.xsd'] as const;

/** Every file below a folder that is not in a history folder, with its bytes. */
export async function filesBelow(root: string): Promise<{ path: string; bytes: Uint8Array }[]> {
  const entries = await readdir(root, { recursive: true, withFileTypes: true });
  const found = entries.filter((entry) => entry.isFile() && basename(entry.parentPath) !== HISTORY_FOLDER);
  return Promise.all(
    found.map(async (entry) => {
      const full = join(entry.parentPath, entry.name);
      return { path: full.slice(root.length + 1), bytes: await readFile(full) };
    }),
  );
}
