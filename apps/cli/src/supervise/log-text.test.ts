import { expect, it } from 'vitest';
import { logText } from './log-text.ts';

it.each([
  ['{"at":"2026-03-01T10:02:03.456Z","from":"worker","sentence":"Sealed."}', '10:02:03  worker     Sealed.'],
  ['{"sentence":"Odd \\u001b[2J."}', String.raw`--:--:--  service    Odd \u{1b}[2J.`],
  ['Error: not JSON', 'Error: not JSON'],
  ['[1]', '[1]'],
])('shows %s as %s', (line, text) => {
  expect(logText(line)).toBe(text);
});
