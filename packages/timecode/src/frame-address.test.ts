import { describe, expect, it } from 'vitest';
import { addressOf, addressRateOf, countOfAddress } from './frame-address.ts';
import { labelOfCount } from './label.ts';
import { countAtLabel } from './parse-label.ts';
import { printLabel } from './print-label.ts';
import { RATES } from './rate.ts';
import { compareRationals, multiplyRationals, rational } from './rational.ts';

// SMPTE ST 12-1 addresses count to 24, 25 or 30 only; ST 12-3 (public scope): 100 = 25 x 4, 120 = 30 x 4.
describe('an address above 30 frames per second', () => {
  it.each([
    ['50', '10:00:00:49', '10:00:00:24', 1],
    ['50', '10:00:00:48', '10:00:00:24', 0],
    ['59.94 DF', '00:01:00;04', '00:01:00;02', 0],
    ['59.94 DF', '00:00:59;59', '00:00:59;29', 1],
    ['47.952', '23:59:59:47', '23:59:59:23', 1],
    ['100', '00:00:00:99', '00:00:00:24', 3],
    ['119.88 DF', '00:01:00;008', '00:01:00;02', 0],
    ['25', '10:00:00:24', '10:00:00:24', 0],
  ] as const)('at %s of %s is %s, picture %i', (...row) => {
    const [name, label, address, picture] = row;
    const count = countAtLabel(label, RATES[name]);
    const found = addressOf(count, RATES[name]);
    expect([printLabel(found.address, found.addressRate), found.picture]).toEqual([address, picture]);
    expect(countOfAddress(found.address, found.picture, RATES[name])).toBe(count);
  });

  it('has the hours, minutes and seconds of its pictures at every minute of a day, drop frame or not', () => {
    for (const rate of Object.values(RATES)) {
      const wrong: string[] = [];
      for (let count = 0; count < rate.labelsPerDay; count += 61) {
        const { address, addressRate, picturesPerAddress, picture } = addressOf(count, rate);
        const [own, named] = [labelOfCount(count, rate), labelOfCount(address, addressRate)];
        const frames = named.frames * picturesPerAddress + picture;
        const isSame =
          own.hours === named.hours &&
          own.minutes === named.minutes &&
          own.seconds === named.seconds &&
          own.frames === frames;
        if (!isSame) wrong.push(`${rate.name} ${count}`);
      }
      expect(wrong).toEqual([]);
    }
  });

  it('runs at the same speed as its pictures', () => {
    for (const rate of Object.values(RATES)) {
      const addressRate = addressRateOf(rate);
      const pictures = rational(rate.base / addressRate.base);
      expect(compareRationals(multiplyRationals(addressRate, pictures), rate)).toBe(0);
      expect(addressRate.labelsPerDay * pictures.numerator).toBe(rate.labelsPerDay);
      expect([24, 25, 30]).toContain(addressRate.base);
    }
  });

  it('refuses a picture that it has not', () => {
    for (const picture of [2, -1, 0.5]) {
      expect(() => countOfAddress(0, picture, RATES['50'])).toThrowError(
        expect.objectContaining({ code: 'NUMBER_OUT_OF_RANGE' }),
      );
    }
  });

  it('of a count before zero stays in order', () => {
    expect(addressOf(-1, RATES['50'])).toMatchObject({ address: -1, picture: 1 });
  });
});
