import { expect, it } from 'vitest';
import { openWorkplace } from '../worker.test-support.ts';
import { timed } from './timed.ts';

const RUN = { id: 'seal-1', step: 'seal', subject: 'wheel-1', inputs: {} };
const fail = async (): Promise<never> => Promise.reject(new Error('no'));

it('counts the time of what ended well or failed, not of what was stopped', async () => {
  const { store } = await openWorkplace();
  const live = new AbortController().signal;
  expect(await timed({ store }, { run: RUN, signal: live }, async () => 7)).toBe(7);
  await expect(timed({ store }, { run: RUN, signal: live }, fail)).rejects.toThrow('no');
  await expect(timed({ store }, { run: RUN, signal: AbortSignal.abort() }, fail)).rejects.toThrow('no');
  const counts = (await store.stepTimes()).map(({ step, outcome, counts: all }) => [
    step,
    outcome,
    all.reduce((sum, one) => sum + one, 0),
  ]);
  expect(counts).toEqual([
    ['seal', 'done', 1],
    ['seal', 'failed', 1],
  ]);
});
