import fc from 'fast-check';
import { expect, it } from 'vitest';
import { MessageKind } from '../message.ts';
import { composeLetter } from './compose-letter.ts';
import { Letter } from './letter.ts';
import { sampleMessage } from './sample-message.ts';

const NOW = '2026-03-01T10:00:00.000Z';
const id = 'msg-0123456789abcdef01234567';

it('says which drive may be recorded over, when, and to look again', () => {
  const letter = composeLetter({ id, messages: [sampleMessage('roll.clear', NOW)], timeZone: 'Europe/Berlin' });
  expect(letter.subject).toBe('CLEAR: wheel may be recorded over');
  expect(letter.text).toContain('all 12 files of roll wheel-20260301-ef15cc are proven');
  expect(letter.text).toContain('Look at the verdict');
  expect(letter.text).toContain('2026-03-01 11:00:00 Europe/Berlin');
});

it('of several the gravest comes first, and the subject tells that there are more', () => {
  const messages = [sampleMessage('roll.clear', NOW), sampleMessage('roll.hold', '2026-03-01T10:05:00.000Z')];
  const letter = composeLetter({ id, messages, timeZone: 'UTC' });
  expect(letter.subject).toBe('HOLD: do not record over wheel, and 1 more');
  expect(letter.at).toBe('2026-03-01T10:05:00.000Z');
  expect(letter.text.indexOf('HOLD')).toBeLessThan(letter.text.indexOf('CLEAR'));
});

it.each(MessageKind.options)('a letter of kind %s is whole', (kind) => {
  const letter = composeLetter({ id, messages: [sampleMessage(kind, NOW)], timeZone: 'UTC' });
  expect(Letter.parse(letter)).toEqual(letter);
  expect(letter.subject.length).toBeGreaterThan(5);
});

it('whatever a name holds, the subject is one line, and the HTML holds no tag of it', () => {
  fc.assert(
    fc.property(
      fc.string({ unit: 'binary' }),
      fc.constantFrom('\n', '\r\nBcc: all@example.org', '<script>', '"><img src=x>', '\u202E'),
      (name, nasty) => {
        const message = {
          ...sampleMessage('roll.hold', NOW),
          recorder: `${name}${nasty}`,
          sentence: `${nasty}${name}`,
        };
        const { subject, html, text } = composeLetter({ id, messages: [message], timeZone: 'UTC' });
        expect(subject).not.toMatch(/[\p{Cc}\u202E\u2028]/u);
        expect(text).not.toMatch(/[\r\u202E]/);
        const tags = new Set([...html.matchAll(/<\/?([a-z!]\w*)/gi)].map(([, tag]) => tag));
        expect([...tags].toSorted()).toEqual(['!doctype', 'body', 'h2', 'head', 'html', 'meta', 'p', 'title']);
      },
    ),
    { numRuns: 60 },
  );
});
