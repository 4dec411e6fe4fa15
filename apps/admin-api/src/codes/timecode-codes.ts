import type { Codes } from './code-entry.ts';

/** About timecode, rates and their arithmetic. */
export const TIMECODE_CODES = {
  DIVISION_BY_ZERO: {
    meaning: 'A rate or count was divided by zero.',
    remedy: 'Report it: it is a fault of the program.',
  },
  LABEL_DROPPED: {
    meaning: 'A timecode label names a frame that drop-frame counting leaves out.',
    remedy: 'Look at how the recorder is set.',
  },
  LABEL_MALFORMED: {
    meaning: 'A text is no timecode label.',
    remedy: 'Look at how the recorder is set.',
  },
  LABEL_MARK_CONTRADICTS_RATE: {
    meaning: 'A label is marked drop-frame at a rate that has none.',
    remedy: 'Look at how the recorder is set.',
  },
  LABEL_OUT_OF_RANGE: {
    meaning: 'A label lies outside the day or the second.',
    remedy: 'Look at how the recorder is set.',
  },
  NUMBER_NOT_WHOLE: {
    meaning: 'A count of frames or samples is not whole.',
    remedy: 'Report it: it is a fault of the program.',
  },
  NUMBER_OUT_OF_RANGE: {
    meaning: 'A count lies outside what is allowed.',
    remedy: 'Report it: it is a fault of the program.',
  },
  NUMBER_TOO_LARGE: {
    meaning: 'A count is too large to be exact.',
    remedy: 'Report it: it is a fault of the program.',
  },
  RATE_HAS_NO_DROP_FRAME: {
    meaning: 'Drop-frame counting is asked for at a rate that has none.',
    remedy: 'Look at how the recorder is set.',
  },
  RATE_MALFORMED: {
    meaning: 'A text is no frame rate.',
    remedy: 'Look at how the recorder is set.',
  },
  RATE_UNKNOWN: {
    meaning: 'A frame rate is none that recorders use.',
    remedy: 'Look at how the recorder is set.',
  },
} as const satisfies Codes;
