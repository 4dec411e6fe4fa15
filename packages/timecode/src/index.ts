export { type CountInSamples, countAtSample, samplesAt } from './audio-samples.ts';
export { approximateForDisplay, printDecimal } from './display.ts';
export { driftAfter, labelledSecondsAt, labelSpeed } from './drift.ts';
export { type FrameAddress, addressOf, addressRateOf, countOfAddress } from './frame-address.ts';
export { addFrames, differenceInFrames } from './frames.ts';
export { countOfLabel, findLabelFault, type Label, labelOfCount, wrapCount } from './label.ts';
export { type NearestRate, nearestRate, RATE_TOLERANCE_PPM } from './nearest-rate.ts';
export { countAtLabel, type LabelReading, type LabelReadingOptions, parseLabel } from './parse-label.ts';
export { printLabel } from './print-label.ts';
export { endOfRange, type FrameRange, intersectRanges, rangeContains, rangesOverlap, unionBounds } from './range.ts';
export { type Counting, type Rate, type RateName, RATES } from './rate.ts';
export { rateFrom, type RateReading } from './rate-from.ts';
export {
  addRationals,
  compareRationals,
  divideRationals,
  floorOf,
  multiplyRationals,
  type Rational,
  rational,
  subtractRationals,
} from './rational.ts';
export { convertCount, countAt, type CountInTime, type Moment, secondsAt, secondsBetween } from './real-time.ts';
export { joinTimeReference, type LabelledSample, labelOfTimeReference, timeReferenceOf } from './time-reference.ts';
export { TimecodeError, type TimecodeFault, type TimecodeFaultCode } from './timecode-fault.ts';
