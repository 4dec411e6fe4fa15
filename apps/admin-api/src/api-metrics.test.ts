import { join } from 'node:path';
import { openJournal } from '@quayside/message-journal';
import { sampleMessage } from '@quayside/messages';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { addRoll, NOW, startTestApi, type TestApi } from './api.test-support.ts';

let api: TestApi;
beforeEach(async () => {
  api = await startTestApi();
});
afterEach(async () => api[Symbol.asyncDispose]());

const metrics = async (): Promise<string> => (await api.get('/metrics')).text();

it('gives what is held, what is still to be proven, and what became of messages', async () => {
  await addRoll(api.store, {}, [
    { type: 'parcelCopied', visit: 1, parcel: 0, outcome: { primary: null, backup: null }, findings: [] },
    { type: 'parcelReadBack', visit: 1, parcel: 0, destination: 'primary', failure: null, findings: [] },
  ]);
  await api.store.beat('worker', 60_000, 'here 1');
  for (const milliseconds of [50, 400, 1e8]) await api.store.noteStepTime('checksum', 'done', milliseconds);
  const journal = await openJournal(join(api.folder, 'messages.jsonl'));
  const to = [{ channel: 'planning', dueAt: null }];
  const telling = { thread: 'roll/a', matter: 'clear', message: sampleMessage('roll.clear', NOW) };
  await journal.accept(telling, () => to, { now: NOW, event: null });
  await journal.noteTry(journal.toSend()[0]?.letter ?? '', { at: NOW, code: 'CHANNEL_REFUSED', why: 'No.' });
  await journal.close();
  const lines = (await metrics()).split('\n');
  expect(lines).toEqual(
    expect.arrayContaining([
      'quayside_rolls{verdict="hold"} 1',
      'quayside_rolls{verdict="clear"} 0',
      // 3 GB at one destination, 1 GB at both.
      'quayside_unverified_bytes 5000000000',
      'quayside_oldest_unverified_age_seconds 0',
      'quayside_process_alive{process="worker"} 1',
      'quayside_process_alive{process="watcher"} 0',
      'quayside_queue_runs{state="waiting"} 0',
      'quayside_deliveries{channel="planning",state="due"} 1',
      'quayside_delivery_failed_tries{channel="planning"} 1',
      'quayside_step_duration_seconds_bucket{step="checksum",outcome="done",le="0.01"} 0',
      'quayside_step_duration_seconds_bucket{step="checksum",outcome="done",le="0.1"} 1',
      'quayside_step_duration_seconds_bucket{step="checksum",outcome="done",le="7200"} 2',
      'quayside_step_duration_seconds_bucket{step="checksum",outcome="done",le="+Inf"} 3',
      'quayside_step_duration_seconds_sum{step="checksum",outcome="done"} 100000.45',
      'quayside_step_duration_seconds_count{step="checksum",outcome="done"} 3',
    ]),
  );
});

// The rules of prometheus.io (practices/naming, instrumenting/exposition_formats 0.0.4).
it('names and lays out its numbers as the rules of Prometheus want it', async () => {
  await api.store.noteStepTime('loudness/measure', 'failed', 2000);
  const response = await api.get('/metrics');
  expect(response.headers.get('content-type')).toBe('text/plain; version=0.0.4; charset=utf-8');
  const text = await response.text();
  expect(text.endsWith('\n')).toBe(true);
  const helped = new Set<string>();
  for (const line of text.split('\n').filter((one) => one !== '')) {
    const [, kind, name = '', rest] = /^# (HELP|TYPE) ([a-z_]+) (.*)$/.exec(line) ?? [];
    if (kind === 'HELP') helped.add(name);
    // The samples of a histogram bear its name with a suffix.
    if (rest === 'histogram') for (const suffix of ['bucket', 'sum', 'count']) helped.add(`${name}_${suffix}`);
    if (kind !== undefined) continue;
    const [, sample = ''] =
      /^([a-z_]+)(?:\{[a-z_]+="[^"\\\n]*"(?:,[a-z_]+="[^"\\\n]*")*\})? -?\d+(?:\.\d+)?(?:e\+?\d+)?$/.exec(line) ?? [];
    expect(sample, line).toMatch(/^quayside_/);
    expect(sample, 'a gauge is no counter').not.toMatch(/_total$|_ms$|_kb$/);
    expect(helped.has(sample), `${sample} is explained before`).toBe(true);
  }
  expect(helped.size).toBeGreaterThan(7);
});
