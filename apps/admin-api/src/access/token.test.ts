import { chmod, mkdtemp, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { ensureToken, isSameSecret } from './token.ts';

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'quayside-token-'));
});
afterEach(async () => rm(folder, { recursive: true }));

it('is made once, of 32 random bytes, for its owner only', async () => {
  const token = await ensureToken(join(folder, 'data'));
  expect(Buffer.from(token, 'base64url')).toHaveLength(32);
  expect((await stat(join(folder, 'data', 'token'))).mode & 0o777).toBe(0o600);
  expect(await ensureToken(join(folder, 'data'))).toBe(token);
  expect(await ensureToken(join(folder, 'other'))).not.toBe(token);
});

it('is made private again when others could read it', async () => {
  const token = await ensureToken(folder);
  await chmod(join(folder, 'token'), 0o644);
  expect(await ensureToken(folder)).toBe(token);
  expect((await stat(join(folder, 'token'))).mode & 0o777).toBe(0o600);
});

it.each(['', 'short', 'x'.repeat(100)])('is refused, not replaced, when the file holds %j', async (content) => {
  await writeFile(join(folder, 'token'), content);
  await expect(ensureToken(folder)).rejects.toThrow(/Remove that file/);
  expect(await readFile(join(folder, 'token'), 'utf8')).toBe(content);
});

it('compares secrets of any length', () => {
  expect(isSameSecret('abc', 'abc')).toBe(true);
  expect(isSameSecret('abc', 'abcd')).toBe(false);
  expect(isSameSecret('', 'a')).toBe(false);
});
