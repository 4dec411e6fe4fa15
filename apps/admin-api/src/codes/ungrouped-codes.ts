import type { Codes } from './code-entry.ts';

/** Why a clip is in no sync group. */
export const UNGROUPED_CODES = {
  BAD_TIMECODE: {
    meaning: "A clip's timecode cannot be read, so it is in no sync group.",
    remedy: 'Look at how the recorder is set; the clip is copied all the same.',
  },
  DAMAGED: {
    meaning: 'A clip is too damaged to be placed in time.',
    remedy: 'Look at it on its recorder before anything else; it is copied as it is.',
  },
  EXISTS_TWICE: {
    meaning: 'A clip is there twice; one of them stands in the sync groups.',
    remedy: 'Nothing.',
  },
  NO_LENGTH: {
    meaning: 'A clip does not say how long it is, so it is in no sync group.',
    remedy: 'Look at it on its recorder.',
  },
  NO_MEDIA: {
    meaning: 'A file is no media, so it has no place in sync groups.',
    remedy: 'Nothing; it is copied all the same.',
  },
  NO_RATE: {
    meaning: 'A clip does not say its frame rate, so it is in no sync group.',
    remedy: 'Look at how the recorder is set.',
  },
  NO_TIMECODE: {
    meaning: 'A clip has no timecode, so it is in no sync group.',
    remedy: 'Look at how the recorder is set; line it up by hand.',
  },
} as const satisfies Codes;
