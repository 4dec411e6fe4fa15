import type { Roll, StreamedEvent } from '@quayside/shoot';
import { expect, it } from 'vitest';
import type { Telling } from '../message.ts';
import { tellingOfEvent } from './telling-of-event.ts';
import { tellingOfVerdict } from './telling-of-verdict.ts';

const NOW = '2026-03-01T10:00:00.000Z';
const event = (type: StreamedEvent['type'], data: StreamedEvent['data'] = {}, subject = 'wheel-1'): StreamedEvent => ({
  type,
  at: NOW,
  subject,
  sentence: 'Something happened.',
  data,
  id: '1-1',
});
// The part of a roll that a verdict's message is made of.
const roll = { id: 'wheel-1', shootId: '2026-03-01', recorder: 'wheel', fingerprint: 'f1' } as Roll;

const finding = (about: string, sentence = 'It is late.'): Telling | null =>
  tellingOfEvent({
    ...event('finding.raised', { code: 'LATE_START', severity: 'warning', shoot: 's1', about }, 's1'),
    sentence,
  });

it('a hundred files with one trouble are one matter', () => {
  const one = tellingOfEvent(event('finding.raised', { code: 'NAME_TAKEN', severity: 'warning', roll: 'wheel-1' }));
  const other = tellingOfEvent({
    ...event('finding.raised', { code: 'NAME_TAKEN', severity: 'warning', roll: 'wheel-1' }),
    sentence: 'Another file.',
  });
  expect(one?.message).toMatchObject({ kind: 'roll.finding', severity: 'warning' });
  expect([other?.thread, other?.matter]).toEqual([one?.thread, one?.matter]);
});

it('findings of two takes are two matters, and one of them told in other words is one', () => {
  expect(finding('take-1')?.thread).not.toBe(finding('take-2')?.thread);
  expect(finding('take-1', 'It is very late.')?.thread).toBe(finding('take-1')?.thread);
  expect(finding('take-1')?.message).toMatchObject({ kind: 'take.finding', shootId: 's1' });
});

it.each([
  ['a finding that only informs', event('finding.raised', { code: 'NAME_MAPPED', severity: 'info', roll: 'wheel-1' })],
  [
    'a failed verification, which is told for its roll',
    event('finding.raised', { code: 'CHECKSUM_MISMATCH', severity: 'critical', roll: 'wheel-1' }),
  ],
  ['a verdict, which its roll tells', event('roll.clear')],
  ['progress', event('roll.copied')],
])('is silent about %s', (_, given) => {
  expect(tellingOfEvent(given)).toBeNull();
});

it('a drive that left and came back is told again, one that is only seen again by a new watcher is not', () => {
  const seen = tellingOfEvent(event('volume.seen'));
  expect(tellingOfEvent(event('volume.gone'))).toEqual({
    thread: seen?.thread,
    matter: 'gone',
    message: null,
    from: seen?.matter,
  });
});

it.each([
  ['visit-1-clear', 'roll.clear', 'clear@f1'],
  ['visit-4-clear', 'roll.clear', 'clear@f1'],
  ['visit-1-away-3', 'drive.pulled', 'away'],
  ['visit-2-hold-one-device-copy-gone', 'roll.hold', 'hold-one-device-copy-gone@f1'],
])('the verdict %s is a message of kind %s', (matter, kind, expected) => {
  const telling = tellingOfVerdict(roll, { matter, severity: 'info', sentence: 'So it stands.' }, NOW);
  expect(telling).toMatchObject({ thread: 'roll/wheel-1', matter: expected, message: { kind, shootId: '2026-03-01' } });
});

it('a clear drive is told with the caution to look again', () => {
  const telling = tellingOfVerdict(roll, { matter: 'visit-1-clear', severity: 'info', sentence: 'It is clear.' }, NOW);
  expect(telling.message?.sentence).toBe('It is clear. Look at the verdict, and at its time, before you record on it.');
});
