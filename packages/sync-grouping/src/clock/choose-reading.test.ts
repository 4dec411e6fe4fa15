import type { Clip } from '@quayside/shoot';
import { RATES } from '@quayside/timecode';
import { describe, expect, it } from 'vitest';
import { followedTake, group, memberOf, outline, pictureClip, soundClip, told } from '../pottery-class.test-support.ts';

// What recorders do on a set is the trade's common practice and has no published source; it is named where it is relied on.

const shortTakes = (): readonly Clip[] => [...followedTake('10:00:00:00', 2400), ...followedTake('10:10:00:00', 2400)];
const timed = (from: string, wave: object): Clip => soundClip({ recorder: 'desk', from, length: 100, wave });

const counted = (from: string, timeReference: number): Clip =>
  timed(from, {
    timeReference,
    samplesSinceMidnight: timeReference,
    timecodeRate: { numerator: 24, denominator: 1 },
  });

describe('sound', () => {
  // Values of EBU Tech 3285 time references: 10:00:00:00 at 24000/1001 is 1 729 728 000 samples of 48 kHz, and 1 728 000 000 when
  // the labels were taken for real time.
  it('is placed by its samples since midnight', () => {
    const desk = memberOf(group([...shortTakes(), timed('10:00:00:00', {}), timed('10:10:00:00', {})]), 'desk');
    expect([desk.offsetInSamples, desk.confidence, desk.placedBy]).toEqual([0, 'sure', 'timecode']);
    expect(desk.sampleRate).toBe(48_000);
  });

  it('that names no timecode rate is placed all the same, a little less sure', () => {
    const desk = memberOf(group([...shortTakes(), timed('10:00:00:00', { timecodeRate: null })]), 'desk');
    expect([desk.offsetInSamples, desk.confidence]).toEqual([0, 'likely']);
  });

  it('counted at 24 by its own metadata is brought to 24000/1001, and said', () => {
    const result = group([
      ...shortTakes(),
      counted('10:00:00:00', 1_728_000_000),
      counted('10:10:00:00', 1_756_800_000),
    ]);
    const desk = memberOf(result, 'desk');
    expect([desk.offsetInSamples, desk.placedBy, desk.confidence]).toEqual([0, 'other-rate', 'likely']);
    expect(desk.restsOn).toContain('1001/1000');
    expect(told(result)).toEqual(['SOUND_COUNTED_AT_OTHER_RATE desk']);
  });

  it('counted at the other rate without a word is brought back by the better fit, and said', () => {
    const wrong = timed('10:00:00:00', {
      timeReference: 1_728_000_000,
      samplesSinceMidnight: null,
      timecodeRate: null,
    });
    const right = timed('10:10:00:00', {});
    const result = group([...shortTakes(), wrong, right]);
    expect(outline(result)).toEqual([
      '10:00:00:00 desk+0 hands+1 kiln+3 wheel+0 wide+2',
      '10:10:00:00 desk+0 hands+1 kiln+3 wheel+0 wide+2',
    ]);
    expect(told(result)).toEqual(['SOUND_COUNTED_AT_OTHER_RATE desk']);
  });

  it('stamped at 48048 Hz is read at that rate', () => {
    const rate = RATES['24'];
    // iXML: seconds are samples over TIMESTAMP_SAMPLE_RATE where it differs from the file's; 36000 s x 48048.
    const stamped = timed('10:00:00:00', {
      timeReference: 1_729_728_000,
      samplesSinceMidnight: 1_729_728_000,
      timestampSampleRate: 48_048,
    });
    const desk = memberOf(group([...followedTake('10:00:00:00', 2400, { rate }), stamped]), 'desk');
    expect([desk.offsetInFrames, desk.placedBy]).toEqual([0, 'other-rate']);
  });

  it("that stands out from the recorder's others is brought back by itself", () => {
    // Takes so short and close that the wrong count puts it near the take before.
    const labels = ['10:00:00:00', '10:00:30:00', '10:01:00:00'];
    const right = labels.flatMap((from) => [
      ...followedTake(from, 240),
      soundClip({ recorder: 'desk', from, length: 10 }),
    ]);
    const samples = (36_000 + 90) * 48_000;
    const wrong = soundClip({
      recorder: 'desk',
      from: '10:01:30:00',
      length: 10,
      wave: { timeReference: samples, samplesSinceMidnight: samples },
    });
    const result = group([...right, ...followedTake('10:01:30:00', 240), wrong]);
    expect(result.groups.map((one) => one.members.length)).toEqual([5, 5, 5, 5]);
    expect(result.findings.map((finding) => [finding.code, finding.subject.id])).toEqual([
      ['SOUND_COUNTED_AT_OTHER_RATE', wrong.id],
    ]);
  });

  it('that is a little off at both ends stays where it says, though another count would be nearer', () => {
    // At 00:40:00:00 the two counts are 58 frames apart: 36 frames early as written, 22 late the other way.
    const early = soundClip({ recorder: 'desk', from: '00:39:58:12', length: 100, wave: { timecodeRate: null } });
    const result = group([...followedTake('00:40:00:00', 2400), early]);
    expect(memberOf(result, 'desk').placedBy).toBe('timecode');
  });

  it('that runs through everything is read as its metadata say, since nothing else can tell', () => {
    const samples = 9 * 3600 * 48_000;
    const counted24 = soundClip({
      recorder: 'desk',
      from: '09:00:00:00',
      length: 3 * 3600,
      wave: { timeReference: samples, samplesSinceMidnight: samples, timecodeRate: { numerator: 24, denominator: 1 } },
    });
    const result = group([...shortTakes(), counted24]);
    expect(memberOf(result, 'desk').placedBy).toBe('other-rate');
    // An hour of labels at 24000/1001 is 3603.6 s.
    expect(memberOf(result, 'desk').range.from).toBe(172_972_800);
  });

  it('that runs through everything is read at the timestamp rate of its metadata', () => {
    const samples = 9 * 3600 * 48_048;
    const stamped = soundClip({
      recorder: 'desk',
      from: '09:00:00:00',
      length: 3 * 3600,
      rate: RATES['24'],
      wave: { timeReference: samples, samplesSinceMidnight: samples, timestampSampleRate: 48_048 },
    });
    const result = group([...followedTake('10:00:00:00', 2400, { rate: RATES['24'] }), stamped]);
    expect(memberOf(result, 'desk').range.from).toBe(3600 * 48_000);
  });

  it('that runs through everything keeps what it says', () => {
    const long = soundClip({ recorder: 'desk', from: '09:00:00:00', length: 3 * 3600 });
    const result = group([...shortTakes(), long]);
    expect(memberOf(result, 'desk').placedBy).toBe('timecode');
    expect(result.findings).toEqual([]);
  });
});

describe('other rates', () => {
  it('meet by their labels when they took them over the cable', () => {
    const result = group([
      ...followedTake('10:00:00:00', 2400),
      pictureClip({ recorder: 'porch', from: '10:00:00:05', length: 2500, rate: RATES['25'] }),
    ]);
    const porch = memberOf(result, 'porch');
    expect([porch.placedBy, porch.confidence, porch.offsetInFrames]).toEqual(['other-rate', 'likely', 5]);
    expect(told(result)).toEqual(['FRAME_RATE_UNLIKE porch']);
  });

  it('meet in real time when that fits and the labels do not', () => {
    // 10:00:36:00 at 25 is 36036 s of real time, as is 10:00:00:00 at 24000/1001.
    const result = group([
      ...followedTake('10:00:00:00', 2400),
      pictureClip({ recorder: 'porch', from: '10:00:36:00', length: 2502, rate: RATES['25'] }),
    ]);
    const porch = memberOf(result, 'porch');
    expect([porch.placedBy, porch.offsetInFrames]).toEqual(['timecode', 0]);
  });

  it('meet frame for frame within one family', () => {
    const result = group([
      ...followedTake('10:00:00:00', 2400),
      pictureClip({ recorder: 'porch', from: '10:00:01:00', length: 5940, rate: RATES['59.94 NDF'] }),
    ]);
    expect(memberOf(result, 'porch').offset).toEqual({ numerator: 1001, denominator: 1000 });
    expect(memberOf(result, 'porch').confidence).toBe('sure');
  });
});
