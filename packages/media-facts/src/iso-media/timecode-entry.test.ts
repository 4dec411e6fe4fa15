import fc from 'fast-check';
import { expect, it } from 'vitest';
import { labelOfSample } from './timecode-label.ts';
import { parseTimecodeEntry, type TimecodeEntry } from './timecode-entry.ts';

// The byte values are published check values: the QuickTime File Format's layout of a timecode sample description,
// with values that ffmpeg writes for these starts.

const hex = (text: string): Buffer => Buffer.from(text.replaceAll(' ', ''), 'hex');
const entryOf = (text: string): TimecodeEntry => parseTimecodeEntry(hex(text)) ?? expect.unreachable();

const DROP_30 =
  '00000032 746d6364 000000000000 0001 00000000 00000001 00007530 000003e9 1e 00 00000010 6e616d65 0004 0000 41303031';
const NON_DROP_24 = '00000024 746d6364 000000000000 0001 00000000 00000000 00005dc0 000003e9 18 000000';
/** A timecode description as our reader gives it: base, whether frames are dropped, and 1001 or 1. */
const entry = (base: number, mark: 'DF' | 'NDF', over: 1 | 1001): TimecodeEntry => ({
  isDropFrame: mark === 'DF',
  isCounter: false,
  timescale: over === 1 ? base : base * 1000,
  frameTicks: over,
  base,
  reel: null,
  isLong: false,
});
const rate = (numerator: number, denominator = 1) => ({ numerator, denominator });

it('reads rate, drop-frame flag, base and reel of an entry whose name follows one reserved byte', () => {
  expect(entryOf(DROP_30)).toEqual({ ...entry(30, 'DF', 1001), reel: 'A001' });
});

it('reads an entry without a name, and one whose name follows the three reserved bytes of the published layout', () => {
  expect(entryOf(NON_DROP_24)).toEqual(entry(24, 'NDF', 1001));
  const named = hex(`${NON_DROP_24} 00000010 6e616d65 0004 0000 57303031`);
  expect(parseTimecodeEntry(named)).toMatchObject({ base: 24, reel: 'W001' });
});

it.each([
  ['0001a574', entryOf(DROP_30), rate(30_000, 1001), '01:00:00;00'],
  ['001fa3e8', entryOf(NON_DROP_24), rate(24_000, 1001), '23:59:59:00'],
  ['0020ed10', entry(60, 'DF', 1001), rate(60_000, 1001), '10:00:00;00'],
  ['000dbba0', entry(25, 'NDF', 1), rate(25), '10:00:00:00'],
  ['0001a5e0', entry(30, 'NDF', 1), rate(30), '01:00:00:00'],
  ['002782df', entry(30, 'DF', 1001), rate(30_000, 1001), '23:59:59;29'],
  ['004f19ff', entry(60, 'NDF', 1), rate(60), '23:59:59:59'],
])('the sample %s is the published label', (...[sample, given, pictureRate, label]) => {
  expect(labelOfSample(given, hex(sample), { rate: pictureRate, trimmedFrames: 0 })).toBe(label);
});

it('takes the packed form of the oldest files where the number is beyond a day', () => {
  // QTFF 1996: 1:15:32.4 is 0x010F2004.
  const packed = { rate: rate(30), trimmedFrames: 0 };
  expect(labelOfSample(entry(30, 'NDF', 1), hex('010f2004'), packed)).toBe('01:15:32:04');
});

it('counts in the picture’s own rate where a label covers two pictures', () => {
  const counted25 = entry(25, 'NDF', 1);
  const at50 = { rate: rate(50), trimmedFrames: 0 };
  expect(labelOfSample(counted25, hex('000dbba1'), at50)).toBe('10:00:00:02');
  const counted30 = entry(30, 'DF', 1001);
  expect(labelOfSample(counted30, hex('0001a574'), { rate: rate(60_000, 1001), trimmedFrames: 0 })).toBe('01:00:00;00');
});

it('adds what the edit list takes from the head, across midnight too', () => {
  const at25 = { rate: rate(25), trimmedFrames: 30 };
  expect(labelOfSample(entry(25, 'NDF', 1), hex('0020f57f'), at25)).toBe('00:00:01:04');
});

it('never throws on an entry of any bytes', () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 80 }), fc.uint8Array({ maxLength: 8 }), (bytes, sample) => {
      const tagged = Buffer.concat([Buffer.alloc(4), Buffer.from('tmcd'), Buffer.from(bytes)]);
      const parsed = parseTimecodeEntry(tagged);
      if (parsed !== null) labelOfSample(parsed, Buffer.from(sample), { rate: null, trimmedFrames: 0 });
    }),
  );
});
