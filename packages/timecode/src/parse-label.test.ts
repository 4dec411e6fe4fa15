import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { countAtLabel, parseLabel } from './parse-label.ts';
import { RATES, type RateName } from './rate.ts';
import { TimecodeError } from './timecode-fault.ts';

const everyRate = fc.constantFrom(...Object.values(RATES));

describe('a label that does not exist', () => {
  it.each<readonly [string, RateName, string]>([
    ['00:01:00;00', '29.97 DF', 'LABEL_DROPPED'],
    ['00:01:00;01', '29.97 DF', 'LABEL_DROPPED'],
    ['23:59:00;01', '29.97 DF', 'LABEL_DROPPED'],
    ['00:11:00;03', '59.94 DF', 'LABEL_DROPPED'],
    ['00:01:00;07', '119.88 DF', 'LABEL_DROPPED'],
    ['00:01:00;007', '119.88 DF', 'LABEL_DROPPED'],
    ['00:00:00:25', '25', 'LABEL_OUT_OF_RANGE'],
    ['00:00:00:24', '23.976', 'LABEL_OUT_OF_RANGE'],
    ['00:00:00;30', '29.97 DF', 'LABEL_OUT_OF_RANGE'],
    ['00:00:00:100', '100', 'LABEL_OUT_OF_RANGE'],
    ['00:00:00:120', '120', 'LABEL_OUT_OF_RANGE'],
    ['24:00:00:00', '25', 'LABEL_OUT_OF_RANGE'],
    ['99:99:99:99', '120', 'LABEL_OUT_OF_RANGE'],
    ['00:60:00:00', '25', 'LABEL_OUT_OF_RANGE'],
    ['00:00:60:00', '25', 'LABEL_OUT_OF_RANGE'],
    ['01:00:00:00', '29.97 DF', 'LABEL_MARK_CONTRADICTS_RATE'],
    ['01:00:00;00', '29.97 NDF', 'LABEL_MARK_CONTRADICTS_RATE'],
    ['01:00:00;00', '25', 'LABEL_MARK_CONTRADICTS_RATE'],
  ])('such as %s at %s is refused as %s', (text, name, code) => {
    expect(parseLabel(text, RATES[name])).toMatchObject({ ok: false, fault: { code } });
  });

  it.each([
    '',
    '01:00:00',
    '1:00:00:00',
    '01:00:00:0',
    '01:00:00:0000',
    '01;00;00;00',
    '01:00:00,00',
    '-1:00:00:00',
    '01:00:00:-1',
    '+1:00:00:00',
    ' 01:00:00:00',
    '01:00:00:00 ',
    '01:00:00:00\n',
    '\n01:00:00:00',
    '01:00:00:00\u0000',
    '01:00:0a:00',
    '０１:00:00:00',
    '٠١:00:00:00',
    '01:00:00:00:00',
    '1e:00:00:00',
    'NaN:00:00:00',
    '01：00：00：00',
  ])('because it is written %j is refused as malformed', (text) => {
    expect(parseLabel(text, RATES['25'])).toMatchObject({ ok: false, fault: { code: 'LABEL_MALFORMED' } });
  });

  it('is told with what, why and what to do', () => {
    expect(parseLabel('00:01:00;00', RATES['29.97 DF'])).toEqual({
      ok: false,
      fault: {
        code: 'LABEL_DROPPED',
        sentence:
          '"00:01:00;00" is no label. Frame 0 of second 0 does not exist in minute 1 at 29.97 DF: drop-frame counting skips to frame 2, so check whether it was written non-drop.',
      },
    });
  });

  it('throws the same fault where a label is demanded', () => {
    expect(() => countAtLabel('00:01:00;00', RATES['29.97 DF'])).toThrowError(TimecodeError);
    expect(() => countAtLabel('00:01:00;00', RATES['29.97 DF'])).toThrowError(/does not exist in minute 1/);
  });

  it('is quoted cut and escaped, however long', () => {
    const found = parseLabel(`\u001b[31m${'0'.repeat(1_000_000)}`, RATES['25']);
    if (found.ok) throw new Error('it was taken');
    expect(found.fault.sentence).not.toContain('\u001b');
    expect(found.fault.sentence.length).toBeLessThan(250);
  });
});

describe('a label that exists', () => {
  it('may have a full stop for the drop-frame mark', () => {
    expect(parseLabel('01:00:00.00', RATES['29.97 DF'])).toMatchObject({ ok: true, count: 107_892 });
  });

  it('may have two digits of frames above base 100', () => {
    expect(parseLabel('00:01:00;08', RATES['119.88 DF'])).toMatchObject({ ok: true, count: 7200 });
  });

  it('may carry either mark when the source tells the counting elsewhere', () => {
    expect(parseLabel('01:00:00:00', RATES['29.97 DF'], { mark: 'ignored' })).toMatchObject({
      ok: true,
      count: 107_892,
    });
    expect(parseLabel('01:00:00;00', RATES['25'], { mark: 'ignored' })).toMatchObject({ ok: true, count: 90_000 });
    expect(parseLabel('00:01:00:00', RATES['29.97 DF'], { mark: 'ignored' })).toMatchObject({ ok: false });
  });
});

describe('whatever text', () => {
  const nearlyLabel = fc
    .tuple(
      fc.array(fc.oneof(fc.nat(130).map(String), fc.string({ maxLength: 3 })), { minLength: 3, maxLength: 5 }),
      fc.constantFrom(':', ';', '.', ',', ''),
    )
    .map(([parts, mark]) => parts.map((part) => part.padStart(2, '0')).join(mark));

  it('is a count of the day or a fault with a code, never an exception', () => {
    fc.assert(
      fc.property(everyRate, fc.oneof(fc.string(), fc.string({ unit: 'binary' }), nearlyLabel), (rate, text) => {
        const found = parseLabel(text, rate, { mark: 'ignored' });
        if (found.ok) expect(found.count).toBeLessThan(rate.labelsPerDay);
        else expect(found.fault.code).toMatch(/^LABEL_/);
      }),
      { numRuns: 3000 },
    );
  });
});
