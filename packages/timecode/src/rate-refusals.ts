import type { TimecodeFault } from './timecode-fault.ts';

/** The refusing half of both rate readings. */
export interface RateRefusal {
  readonly ok: false;
  readonly fault: TimecodeFault;
}

/** The answer for something that is no positive number. `given` is already fit to be quoted. */
export function refuseAsMalformed(given: string): RateRefusal {
  return {
    ok: false,
    fault: {
      code: 'RATE_MALFORMED',
      sentence: `${given} is not a frame rate: a positive decimal such as 29.97 or a fraction such as 30000/1001 is expected.`,
    },
  };
}

/** The answer for a number that is near none of the rates. */
export function refuseAsUnknown(given: string): RateRefusal {
  return {
    ok: false,
    fault: {
      code: 'RATE_UNKNOWN',
      sentence: `Timecode cannot be counted at ${given} frames per second: no standard defines labels for it, so place the clip by real time.`,
    },
  };
}
