import { expect, it } from 'vitest';
import { compareRanks, type LinedUp, type Rank, RunLine } from './run-line.ts';

/** A line whose runs end when they are told to. */
function lineWith(limits: Readonly<Record<string, number>>): {
  readonly line: RunLine<string>;
  readonly begun: string[];
  readonly add: (step: string, subject: string, as?: { readonly work?: string; readonly rank?: Rank }) => void;
  readonly end: (name: string) => Promise<void>;
  readonly leave: (name: string) => void;
} {
  const begun: string[] = [];
  const ways = new Map<string, { readonly end: () => void; readonly leave: () => void }>();
  const limitOf = (name: string): number => limits[name] ?? 1;
  const line = new RunLine<string>({ ofStep: limitOf, ofPlugin: limitOf }, (run: LinedUp<string>, leave) => {
    begun.push(run.work);
    const { promise, resolve } = Promise.withResolvers<void>();
    ways.set(run.key, { end: resolve, leave });
    return promise;
  });
  return {
    line,
    begun,
    add: (step, subject, { work = `${step} ${subject}`, rank = [] } = {}) =>
      line.add({ key: `${step} ${subject}`, shootId: 'class', plugin: step.split('/')[0] ?? '', step, work, rank }),
    end: async (name) => {
      ways.get(name)?.end();
      await new Promise((done) => setImmediate(done));
    },
    leave: (name) => ways.get(name)?.leave(),
  };
}

it('the lowest rank goes next, as it is when a turn comes, and of equal ones who asked first', async () => {
  const { line, begun, add, end } = lineWith({ 'proxy/render': 1, proxy: 1 });
  const ranks = [
    ['first', 0],
    ['late', 1],
    ['middle', 2],
    ['soon', 3],
    ['also in the middle', 2],
  ] as const;
  for (const [subject, place] of ranks) add('proxy/render', subject, { rank: [place] });
  line.advance();
  add('proxy/render', 'late', { rank: [9] });
  add('proxy/render', 'soon', { rank: [0] });
  for (const [subject] of ranks) await end(`proxy/render ${subject}`);
  for (const [subject] of ranks) await end(`proxy/render ${subject}`);
  expect(begun.map((name) => name.replace('proxy/render ', ''))).toEqual([
    'first',
    'soon',
    'middle',
    'also in the middle',
    'late',
  ]);
});

it('ranks are compared number by number', () => {
  expect(compareRanks([0, 5], [1, 0])).toBeLessThan(0);
  expect(compareRanks([1, 5], [1, 2])).toBeGreaterThan(0);
  expect(compareRanks([1], [1, 2])).toBe(0);
});

it('a step makes as many runs at once as its limit says, in the order in which they were asked for', async () => {
  const { line, begun, add, end } = lineWith({ 'sheet/draw': 2, sheet: 5 });
  for (const subject of ['a', 'b', 'c', 'd']) add('sheet/draw', subject);
  line.advance();
  expect(begun).toEqual(['sheet/draw a', 'sheet/draw b']);
  await end('sheet/draw b');
  expect(begun).toEqual(['sheet/draw a', 'sheet/draw b', 'sheet/draw c']);
  line.advance();
  expect(begun).toHaveLength(3);
});

it('the limit of a plugin holds for its steps together, and a step at its own limit keeps no place from another', () => {
  const { line, begun, add } = lineWith({ 'sheet/draw': 1, 'sheet/sum': 4, sheet: 2 });
  for (const subject of ['a', 'b']) add('sheet/draw', subject);
  for (const subject of ['a', 'b']) add('sheet/sum', subject);
  line.advance();
  expect(begun).toEqual(['sheet/draw a', 'sheet/sum a']);
});

it('plugins do not wait for each other', () => {
  const { line, begun, add } = lineWith({});
  add('sheet/draw', 'a');
  add('loudness/measure', 'a');
  line.advance();
  expect(begun).toEqual(['sheet/draw a', 'loudness/measure a']);
});

it('a run whose turn is over makes way for the next of its step, but none with its key begins before it has ended', async () => {
  const { line, begun, add, end, leave } = lineWith({});
  add('sheet/draw', 'a', { work: 'a' });
  add('sheet/draw', 'b', { work: 'b' });
  line.advance();
  leave('sheet/draw a');
  expect(begun).toEqual(['a', 'b']);
  add('sheet/draw', 'a', { work: 'a again' });
  await end('sheet/draw b');
  line.advance();
  expect(begun).toEqual(['a', 'b']);
  await end('sheet/draw a');
  add('sheet/draw', 'a', { work: 'a again' });
  line.advance();
  expect(begun).toEqual(['a', 'b', 'a again']);
});

it('what waits may be replaced or dropped; what is under way goes on', () => {
  const { line, begun, add } = lineWith({});
  for (const subject of ['a', 'b', 'c']) add('sheet/draw', subject);
  line.advance();
  add('sheet/draw', 'a', { work: 'newer a' });
  add('sheet/draw', 'c', { work: 'newer c' });
  const [a, b] = ['a', 'b'].map((subject) => line.get(`sheet/draw ${subject}`));
  if (a !== undefined) line.drop(a);
  if (b !== undefined) line.drop(b);
  expect(line.of('class').map(({ work, state }) => `${state} ${work}`)).toEqual([
    'running sheet/draw a',
    'waiting newer c',
  ]);
  expect(begun).toEqual(['sheet/draw a']);
});

it('a line that is stopped begins nothing more, stops what is under way, and is settled when that has ended', async () => {
  const { line, begun, add, end } = lineWith({});
  add('sheet/draw', 'a');
  add('sheet/draw', 'b');
  line.advance();
  line.stop();
  expect(line.get('sheet/draw a')?.stop.signal.aborted).toBe(true);
  let isSettled = false;
  const settling = line.settled().then(() => {
    isSettled = true;
  });
  await new Promise((done) => setImmediate(done));
  expect(isSettled).toBe(false);
  await end('sheet/draw a');
  await settling;
  expect(begun).toEqual(['sheet/draw a']);
});
