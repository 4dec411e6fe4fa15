import { setTimeout as pause } from 'node:timers/promises';
import { expect, it } from 'vitest';
import { thinnedLog } from './thinned-log.ts';

it('the first line of each kind is logged, and the next one after the pause says how many were held back', async () => {
  const lines: string[] = [];
  const log = thinnedLog((line) => lines.push(line), 200);
  for (const number of [1, 2, 3]) log('connection', `failed ${number}`);
  log('row', 'unreadable');
  expect(lines).toEqual(['failed 1', 'unreadable']);
  await pause(250);
  log('connection', 'failed 4');
  expect(lines).toEqual(['failed 1', 'unreadable', 'failed 4 (2 more like it since the last line)']);
});
