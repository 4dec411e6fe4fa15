import { describe, expect, it } from 'vitest';
import { printDecimal } from './display.ts';
import { driftAfter, labelledSecondsAt, labelSpeed } from './drift.ts';
import { countAtLabel } from './parse-label.ts';
import { printLabel } from './print-label.ts';
import { type RateName, RATES } from './rate.ts';
import { divideRationals, multiplyRationals, rational, subtractRationals } from './rational.ts';
import { countAt, secondsAt } from './real-time.ts';

const HOUR = rational(3600);

// All values here are worked by arithmetic from the counting rule of SMPTE ST 12-1.
describe('drift of labels against the clock', () => {
  it.each<readonly [RateName, string, number, string]>([
    ['29.97 NDF', '00:59:56:12', 1, '107.892'],
    ['23.976', '00:59:56:09', 1, '86.314'],
    ['59.94 NDF', '00:59:56:24', 1, '215.784'],
    ['29.97 NDF', '23:58:33:20', 24, '2589.411'],
  ])('at %s shows %s after %i real hours, short of the round number by %s frames', (...row) => {
    const [name, label, hours, short] = row;
    const rate = RATES[name];
    const seconds = rational(3600 * hours);
    expect(printLabel(countAt(seconds, rate).count, rate)).toBe(label);
    const missing = subtractRationals(
      multiplyRationals(seconds, rational(rate.base)),
      multiplyRationals(seconds, rate),
    );
    expect(printDecimal(missing, 3)).toBe(short);
  });

  it('is 3.5964 s an hour behind at every non-drop rate over 1001', () => {
    for (const name of ['23.976', '29.97 NDF', '47.952', '59.94 NDF', '119.88 NDF'] as const) {
      expect(printDecimal(driftAfter(HOUR, RATES[name]), 4)).toBe('-3.5964');
      expect(labelSpeed(RATES[name])).toEqual(rational(1000, 1001));
    }
  });

  it('is 3.6 ms an hour and 86.4 ms a day ahead in drop frame: 2.589 frames at 29.97, 5.179 at 59.94', () => {
    const day = rational(86_400);
    expect(printDecimal(driftAfter(HOUR, RATES['29.97 DF']), 4)).toBe('0.0036');
    expect(printDecimal(driftAfter(day, RATES['29.97 DF']), 4)).toBe('0.0864');
    expect(printDecimal(multiplyRationals(driftAfter(day, RATES['29.97 DF']), RATES['29.97 DF']), 3)).toBe('2.589');
    expect(printDecimal(multiplyRationals(driftAfter(day, RATES['59.94 DF']), RATES['59.94 DF']), 3)).toBe('5.179');
  });

  it('is none at whole rates', () => {
    for (const name of ['24', '25', '30', '48', '50', '60', '100', '120'] as const) {
      expect(driftAfter(rational(86_400), RATES[name])).toEqual(rational(0));
    }
  });

  it('makes a labelled hour last 3603.6 s non-drop and 3599.9964 s in drop frame', () => {
    expect(secondsAt(countAtLabel('01:00:00:00', RATES['29.97 NDF']), RATES['29.97 NDF'])).toEqual(
      rational(36_036, 10),
    );
    const dropHour = secondsAt(countAtLabel('01:00:00;00', RATES['29.97 DF']), RATES['29.97 DF']);
    expect(dropHour).toEqual(rational(35_999_964, 10_000));
    expect(labelledSecondsAt(countAtLabel('01:00:00;00', RATES['29.97 DF']), RATES['29.97 DF'])).toEqual(HOUR);
  });

  it('between equal labels at 23.976 and 25 is 1000 ppm one way and 999 the other', () => {
    const speed = divideRationals(labelSpeed(RATES['25']), labelSpeed(RATES['23.976']));
    expect(subtractRationals(speed, rational(1))).toEqual(rational(1, 1000));
    const inverse = subtractRationals(rational(1), labelSpeed(RATES['23.976']));
    expect(printDecimal(multiplyRationals(inverse, rational(1_000_000)), 1)).toBe('999.0');
  });
});
