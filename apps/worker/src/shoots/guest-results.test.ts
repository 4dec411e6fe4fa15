import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import type { GuestRunRecord } from '@quayside/shoot';
import { expect, it, onTestFinished } from 'vitest';
import { guestResults } from './guest-results.ts';

const FOLDER = 'class/records/plugins/sheet/page/class';

function run(change: Partial<GuestRunRecord>): GuestRunRecord {
  return {
    id: '0123456789abcdef',
    step: 'sheet/page',
    version: '1',
    subject: { kind: 'shoot', id: 'class' },
    shootId: 'class',
    rollId: null,
    state: 'done',
    why: 'It has not run yet.',
    fingerprint: { version: '1', config: '', subject: '', outputs: '' },
    tries: 1,
    failure: null,
    outputDigest: '',
    findings: [],
    filed: { destination: 'primary', folder: FOLDER, alsoAt: [] },
    progress: null,
    startedAt: '2026-11-25T18:00:00.000Z',
    endedAt: '2026-11-25T18:00:01.000Z',
    tookMs: 1000,
    output: { pages: 1 },
    files: [{ path: 'page.svg', sizeInBytes: 6, xxh128: '' }],
    log: { head: [], droppedLines: 0, tail: [] },
    ...change,
  };
}

/** Two destinations; `files` by destination, place below its root and text. */
async function destinations(
  files: readonly (readonly [name: string, place: string, text: string])[],
): Promise<ReadonlyMap<string, string>> {
  const base = await mkdtemp(join(tmpdir(), 'quayside-results-'));
  onTestFinished(() => rm(base, { recursive: true }));
  for (const [name, place, text] of files) {
    await mkdir(dirname(join(base, name, place)), { recursive: true });
    await writeFile(join(base, name, place), text);
  }
  return new Map(['primary', 'backup'].map((name) => [name, join(base, name)]));
}

const RECORD = 'class/records/plugins/sheet/runs.jsonl';

it('a run that one destination has on record is told at each, with where its files are', async () => {
  const roots = await destinations([
    ['primary', RECORD, JSON.stringify(run({}))],
    ['primary', `${FOLDER}/page.svg`, '<svg/>'],
  ]);
  const results = await guestResults('class', roots);
  const place = 'records/plugins/sheet/page/class/page.svg';
  expect(results.get('primary')).toMatchObject([
    { step: 'sheet/page', output: { pages: 1 }, files: [{ path: 'page.svg', place, elsewhere: [] }] },
  ]);
  expect(results.get('backup')).toMatchObject([
    { step: 'sheet/page', output: { pages: 1 }, files: [{ path: 'page.svg', place: null, elsewhere: ['primary'] }] },
  ]);
});

it('of two records of one run the later is told; what is damaged, failed or of another shoot is not', async () => {
  const later = run({ endedAt: '2026-11-25T19:00:00.000Z', output: { pages: 2 }, files: [], filed: null });
  const lines = [
    run({ output: { pages: 0 } }),
    later,
    run({ id: 'f'.repeat(16), state: 'failed' }),
    run({ id: 'a'.repeat(16), shootId: 'other' }),
  ];
  const roots = await destinations([
    ['primary', RECORD, `${lines.map((line) => JSON.stringify(line)).join('\n')}\n{"id":"torn`],
    ['backup', RECORD, `${JSON.stringify(run({}))}\n`],
  ]);
  const results = await guestResults('class', roots);
  expect([...results.values()].map((own) => own.map(({ output }) => output))).toEqual([[{ pages: 2 }], [{ pages: 2 }]]);
});
