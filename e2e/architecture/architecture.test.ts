import { globSync, readFileSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { expect, it } from 'vitest';

const ROOT = join(import.meta.dirname, '../..');

const sources = globSync('{apps,packages,plugins,e2e,.ci,.config}/**/*.{ts,mjs}', {
  cwd: ROOT,
  exclude: (name) => ['node_modules', 'dist', 'fixtures', 'generated', '.results'].includes(basename(name)),
});
const lengths = sources.map((file) => ({
  file,
  lines: read(file)
    .split('\n')
    .filter((line) => line.trim() !== '').length,
}));

function read(file: string): string {
  return readFileSync(join(ROOT, file), 'utf8');
}

it('no source file has more than 300 lines, and nine of ten have 200 at most', () => {
  // It looked at them at all.
  expect(lengths.length).toBeGreaterThan(500);
  expect(lengths.filter(({ lines }) => lines > 300)).toEqual([]);
  const sorted = lengths.map(({ lines }) => lines).toSorted((one, other) => one - other);
  expect(sorted[Math.floor(sorted.length * 0.9)]).toBeLessThanOrEqual(200);
});

function wordsOf(file: string): readonly string[] {
  return [...dirname(file).split('/'), basename(file).split('.', 1)[0] ?? ''];
}

it('no folder or file is named for what it is not about', () => {
  const names = new Set(['utils', 'util', 'helpers', 'common', 'types', 'lib', 'misc', 'interfaces', 'constants']);
  expect(sources.filter((file) => wordsOf(file).some((part) => names.has(part)))).toEqual([]);
});

interface Manifest {
  readonly name: string;
  readonly dependencies?: Readonly<Record<string, string>>;
}

interface Workspace {
  readonly tag: string;
  readonly manifest: Manifest;
  readonly nodeTypes: boolean;
}

const workspaces: readonly Workspace[] = globSync('{apps,packages,plugins}/*/turbo.json', { cwd: ROOT }).map((file) => {
  const folder = dirname(file);
  // Our own files, which turbo and tsc read as well.
  const { tags } = JSON.parse(read(file)) as { tags: readonly string[] };
  const { compilerOptions } = JSON.parse(read(join(folder, 'tsconfig.json'))) as {
    compilerOptions?: { types?: readonly string[] };
  };
  return {
    tag: tags[0] ?? '',
    manifest: JSON.parse(read(join(folder, 'package.json'))) as Manifest,
    nodeTypes: compilerOptions?.types?.includes('node') ?? false,
  };
});

// As DEVELOPERS.md draws it. turbo checks what is imported; this, what a package says that it needs.
const BELOW: Readonly<Record<string, readonly string[]>> = {
  app: ['app', 'plugin', 'guest', 'channel', 'adapter', 'sdk', 'domain'],
  plugin: ['sdk', 'domain'],
  // A plugin that runs in a process of its own rights: it does its own I/O, as any studio's does.
  guest: ['sdk', 'domain'],
  // A way for messages to reach people: it speaks to servers and programs of its own.
  channel: ['sdk', 'domain'],
  adapter: ['sdk', 'domain'],
  sdk: ['domain'],
  domain: ['domain'],
};

it('packages depend downwards only', () => {
  const tagOf = new Map(workspaces.map(({ manifest, tag }) => [manifest.name, tag]));
  expect(tagOf.get('@quayside/pipeline')).toBe('domain');
  const upwards = workspaces.flatMap(({ manifest, tag }) =>
    Object.keys(manifest.dependencies ?? {})
      .filter((name) => tagOf.has(name) && BELOW[tag]?.includes(tagOf.get(name) ?? '') !== true)
      .map((name) => `${manifest.name} (${tag}) needs ${name} (${tagOf.get(name)})`),
  );
  expect(upwards).toEqual([]);
});

it('what is pure compiles without the types of Node, so that no I/O can enter it unseen', () => {
  const impure = workspaces.filter(({ tag, nodeTypes }) => ['domain', 'sdk', 'plugin'].includes(tag) && nodeTypes);
  expect(impure.map(({ manifest }) => manifest.name)).toEqual([]);
});
