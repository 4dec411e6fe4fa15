import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it, onTestFinished } from 'vitest';
import { noteStart, noteStop } from './note-start.ts';

it('a start after a farewell is news, one without is a warning', async () => {
  const folder = await mkdtemp(join(tmpdir(), 'quayside-start-'));
  onTestFinished(() => rm(folder, { recursive: true }));
  const file = join(folder, 'data', 'at-work');
  const severity = async (): Promise<unknown> => (await noteStart(file, '2026-03-01T10:00:00.000Z')).data?.['severity'];
  expect(await severity()).toBe('info');
  await noteStop(file);
  expect(await severity()).toBe('info');
  expect(await severity()).toBe('warning');
});
