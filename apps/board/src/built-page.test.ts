import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { beforeAll, expect, it } from 'vitest';
import { makePage, PAGE_FOLDER } from '../serving/page-folder.ts';

/** What the page may weigh on its way to the browser, all its files together. */
const MOST_BYTES = 150_000;

let files: ReadonlyMap<string, Buffer>;
beforeAll(async () => {
  expect(await makePage()).toBeNull();
  const names = ['index.html', ...(await readdir(join(PAGE_FOLDER, 'assets'))).map((name) => `assets/${name}`)];
  files = new Map(
    await Promise.all(names.map(async (name) => [name, await readFile(join(PAGE_FOLDER, name))] as const)),
  );
});

it('weighs less than 150 kB', () => {
  const weights = [...files].map(([name, content]) => [name, gzipSync(content).byteLength] as const);
  expect(weights.some(([name, bytes]) => name.endsWith('.js') && bytes > 10_000)).toBe(true);
  expect(weights.reduce((sum, [, bytes]) => sum + bytes, 0)).toBeLessThan(MOST_BYTES);
});

it('holds no script and no style within its markup, and names nothing outside of itself', () => {
  const html = String(files.get('index.html'));
  expect(html).toMatch(/<script type="module" crossorigin src="\/assets\/[\w-]+\.js"><\/script>/);
  expect(html).not.toMatch(/<style|\sstyle=|\son\w+=|<script>|javascript:/);
  for (const [name, content] of files) {
    // Names of namespaces are addresses that nobody asks for.
    const addresses = String(content).match(/https?:\/\/(?!www\.w3\.org\/|json-schema\.org\/)[\w.-]+/g) ?? [];
    expect(addresses, name).toEqual([]);
  }
});

it('is not made again when nothing has changed', async () => {
  const madeFrom = join(PAGE_FOLDER, 'made-from.json');
  const before = await readFile(madeFrom);
  expect(Object.keys(JSON.parse(String(before)) as object)).toContain('src/drives/card-for-volume.ts');
  const [name] = [...files.keys()].filter((file) => file.endsWith('.js'));
  expect(await makePage()).toBeNull();
  expect(await readFile(join(PAGE_FOLDER, name ?? ''))).toEqual(files.get(name ?? ''));
});
