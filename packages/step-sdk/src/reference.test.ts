import { execFile } from 'node:child_process';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { expect, it } from 'vitest';

it('the reference is what the types say now', async () => {
  const script = join(import.meta.dirname, '../making/make-reference.mjs');
  await expect(promisify(execFile)(process.execPath, [script, '--check'])).resolves.toMatchObject({ stderr: '' });
});
