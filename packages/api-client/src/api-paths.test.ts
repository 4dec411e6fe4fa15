import { execFile } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { expect, it } from 'vitest';

const MAKING = join(import.meta.dirname, '../making/make-types.mjs');

it('is what the generator makes of the API of today; else: npm run generate --workspace @quayside/api-client', async () => {
  const { stdout } = await promisify(execFile)(process.execPath, [MAKING, '--print'], { maxBuffer: 2 ** 26 });
  expect(stdout).toContain("readonly '/v1/rolls/{id}/retry': {");
  const committed = await readFile(join(import.meta.dirname, 'generated/api-paths.ts'), 'utf8');
  // Not by `toBe` on the texts, whose difference may be thousands of lines.
  const [made, kept] = [stdout.split('\n'), committed.split('\n')];
  expect(made.find((line, at) => line !== kept[at])).toBeUndefined();
  expect(kept.length).toBe(made.length);
});
