import { appendFile, mkdir, mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { prepareDestination } from '@quayside/media-files';
import type { GuestRunRecord } from '@quayside/shoot';
import { expect, it, onTestFinished } from 'vitest';
import { appendRuns, readRuns } from './run-journal.ts';

const run = (subject: string, change: Partial<GuestRunRecord> = {}): GuestRunRecord => ({
  id: Buffer.from(subject.padEnd(8)).toString('hex').slice(0, 16),
  step: 'sheet/draw',
  version: '1',
  subject: { kind: 'clip', id: subject },
  shootId: 'class',
  rollId: 'wheel-1',
  state: 'done',
  why: 'It has not run yet.',
  fingerprint: { version: '1', config: 'c', subject: 's', outputs: 'o' },
  tries: 1,
  failure: null,
  outputDigest: 'd',
  findings: [],
  filed: null,
  progress: null,
  startedAt: '2026-05-04T10:00:00.000Z',
  endedAt: '2026-05-04T10:00:01.000Z',
  tookMs: 1000,
  output: null,
  files: [],
  log: { head: [], droppedLines: 0, tail: [] },
  ...change,
});

async function destination(): Promise<{ readonly root: string; readonly journal: string }> {
  const root = await mkdtemp(join(tmpdir(), 'quayside-journal-'));
  onTestFinished(() => rm(root, { recursive: true }));
  await prepareDestination(root, 'primary');
  return { root, journal: join(root, 'class/records/plugins/sheet/runs.jsonl') };
}

async function read(root: string): Promise<Readonly<Record<string, unknown>>> {
  const runs: Record<string, unknown> = {};
  for await (const { subject, output } of readRuns(root, 'class')) {
    expect(runs).not.toHaveProperty(subject.id);
    runs[subject.id] = output;
  }
  return runs;
}

it('the later line of a run stands for the earlier, and plugins and shoots have journals of their own', async () => {
  const { root } = await destination();
  await appendRuns(root, 'class', [run('a', { output: 1 }), run('b', { output: 2 }), run('c', { step: 'loud/sum' })]);
  await appendRuns(root, 'class', [run('a', { output: 3 })]);
  await appendRuns(root, 'other', [run('d', { shootId: 'other' })]);
  expect(await read(root)).toEqual({ a: 3, b: 2, c: null });
});

it('a line that a crash tore loses that run alone, and the next one is whole', async () => {
  const { root, journal } = await destination();
  await appendRuns(root, 'class', [run('a', { output: 1 })]);
  await appendFile(journal, JSON.stringify(run('b')).slice(0, 200));
  await appendRuns(root, 'class', [run('c', { output: 3 })]);
  expect(await read(root)).toEqual({ a: 1, c: 3 });
});

it('a journal that is mostly of runs which were made again is written anew, with the last of each', async () => {
  const { root, journal } = await destination();
  await appendRuns(root, 'class', [run('b', { output: 'kept' })]);
  await appendRuns(
    root,
    'class',
    Array.from({ length: 1100 }, (_, time) => run('a', { output: time })),
  );
  expect(await read(root)).toEqual({ a: 1099, b: 'kept' });
  expect((await readFile(journal, 'utf8')).trim().split('\n')).toHaveLength(2);
  expect(await read(root)).toEqual({ a: 1099, b: 'kept' });
});

it('nothing is written below a root that is no destination: there an unmounted one would be', async () => {
  const root = await mkdtemp(join(tmpdir(), 'quayside-journal-'));
  onTestFinished(() => rm(root, { recursive: true }));
  await mkdir(join(root, 'class'));
  await expect(appendRuns(root, 'class', [run('a')])).rejects.toMatchObject({ code: 'DESTINATION_NOT_MOUNTED' });
  expect(await read(root)).toEqual({});
});
