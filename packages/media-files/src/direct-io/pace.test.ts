import { expect, it } from 'vitest';
import { createPace } from './pace.ts';

function times(count: number, call: () => void): void {
  for (let number = 0; number < count; number += 1) call();
}

/** Holds this thread up for so many milliseconds. */
function hold(ms: number): void {
  Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, ms);
}

function fail(): never {
  throw new Error('no such file');
}

it('a drive that answers promptly stays prompt, and gives what its calls give', () => {
  const pace = createPace(1000);
  times(100, () => expect(pace.time(() => 'answer')).toBe('answer'));
  expect(pace.isPrompt()).toBe(true);
});

it('one slow answer among many is no slow drive; many are, and it stays one', () => {
  const pace = createPace(20);
  pace.time(() => hold(50));
  times(31, () => pace.time(() => undefined));
  expect(pace.isPrompt()).toBe(true);
  times(32, () => pace.time(() => hold(25)));
  expect(pace.isPrompt()).toBe(false);
  times(64, () => pace.time(() => undefined));
  expect(pace.isPrompt()).toBe(false);
});

it('calls that fail take their time too, and keep their error', () => {
  const pace = createPace(0);
  times(32, () => expect(() => pace.time(fail)).toThrow('no such file'));
  expect(pace.isPrompt()).toBe(false);
});

it('what is tried in vain again and again is no longer tried', () => {
  const pace = createPace(1000);
  times(63, () => pace.noteVain());
  expect(pace.isPrompt()).toBe(true);
  pace.noteVain();
  expect(pace.isPrompt()).toBe(false);
});
