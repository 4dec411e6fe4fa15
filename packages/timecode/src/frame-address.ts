import { addExactly, demandWhole, modulo, multiplyExactly, toSafeNumber } from './exact-integers.ts';
import { type Rate, type RateName, RATES } from './rate.ts';
import { TimecodeError } from './timecode-fault.ts';

/**
 * Above 30 frames per second one ST 12-1 address (base 24, 25 or 30) names two or four pictures: `address` is its count at
 * `addressRate`, `picture` which of them, from 0. This is all that LTC, and a file that counts half the rate, can tell.
 */
export interface FrameAddress {
  readonly address: number;
  readonly picture: number;
  readonly addressRate: Rate;
  readonly picturesPerAddress: number;
}

/** The address of a picture. Up to 30 frames per second it is the count itself. */
export function addressOf(count: number, rate: Rate): FrameAddress {
  demandWhole(count, 'frame count');
  const addressRate = addressRateOf(rate);
  const picturesPerAddress = rate.base / addressRate.base;
  const picture = modulo(count, picturesPerAddress);
  return { address: (count - picture) / picturesPerAddress, picture, addressRate, picturesPerAddress };
}

/** The count, at the pictures' own rate, of one picture of an address. Throws NUMBER_OUT_OF_RANGE for a picture it has not. */
export function countOfAddress(address: number, picture: number, rate: Rate): number {
  demandWhole(address, 'address');
  const picturesPerAddress = rate.base / addressRateOf(rate).base;
  if (!Number.isInteger(picture) || picture < 0 || picture >= picturesPerAddress) {
    throw new TimecodeError({
      code: 'NUMBER_OUT_OF_RANGE',
      sentence: `An address at ${rate.name} has pictures 0 to ${picturesPerAddress - 1}, not ${picture}: check which rate the address was counted at.`,
    });
  }
  return toSafeNumber(addExactly(multiplyExactly(address, picturesPerAddress), picture));
}

const ADDRESS_RATES: Readonly<Partial<Record<RateName, RateName>>> = {
  '47.952': '23.976',
  '48': '24',
  '50': '25',
  '59.94 NDF': '29.97 NDF',
  '59.94 DF': '29.97 DF',
  '60': '30',
  '60 DF': '30 DF',
  '100': '25',
  '119.88 NDF': '29.97 NDF',
  '119.88 DF': '29.97 DF',
  '120': '30',
  '120 DF': '30 DF',
};

/** The rate that addresses are counted at: the same speed in pairs or fours, drop frame kept. 120 is 30 x 4, as in ST 12-3. */
export function addressRateOf(rate: Rate): Rate {
  return RATES[ADDRESS_RATES[rate.name] ?? rate.name];
}
