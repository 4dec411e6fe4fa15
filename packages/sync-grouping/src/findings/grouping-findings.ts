import type { Severity } from '@quayside/shoot';

/** What a code means, how grave it is, and what to do: one entry of the catalogue. */
export interface FindingEntry {
  readonly severity: Severity;
  readonly explanation: string;
  readonly remedy: string;
}

/** Every finding that grouping can make, by its stable code. A finding's `remedy` is the entry's. */
export const GROUPING_FINDINGS = {
  RECORDER_MISSING_FROM_TAKE: {
    severity: 'warning',
    explanation: 'A recorder that is part of the shoot has no clip in a take that others recorded.',
    remedy: 'Look for the clip on its drive; if it did not record, check its remote start and repeat the take.',
  },
  TAKE_ON_ONE_RECORDER: {
    severity: 'warning',
    explanation: 'Only one recorder holds a take, though others are part of the shoot.',
    remedy: 'If the take was meant, find out why nothing else started; if it was a test, nothing need be done.',
  },
  CLIP_STARTS_LATE: {
    severity: 'warning',
    explanation: 'A clip begins later than the others of its take, by more than a follower needs.',
    remedy: 'Check that the beginning is not needed from this recorder, and that its remote start works.',
  },
  CLIP_CUT_SHORT: {
    severity: 'warning',
    explanation: 'A clip ends before the others of its take, by more than a follower needs.',
    remedy: 'Check that the end is not needed from this recorder; look at its drive space, power and temperature.',
  },
  RECORDER_STOPPED_IN_TAKE: {
    severity: 'warning',
    explanation: 'A recorder stopped and started again while the take went on.',
    remedy: 'Check that the part in between is not needed from this recorder; look at its drive and power.',
  },
  FRAME_RATE_UNLIKE: {
    severity: 'critical',
    explanation: 'A recorder ran at another frame rate than the others.',
    remedy:
      'Set the recorder to the rate of the others and repeat the take; its footage must be converted to be cut with.',
  },
  FRAME_RATE_VARIABLE: {
    severity: 'warning',
    explanation: 'A clip has no constant frame rate, so its timecode holds for its first frame only.',
    remedy: 'Set the recorder to a constant frame rate; convert the clip before it is cut.',
  },
  FRAME_SIZE_UNLIKE: {
    severity: 'warning',
    explanation: 'A camera recorded another frame size than the others.',
    remedy: 'Set the camera to the size of the others, unless the difference is wanted.',
  },
  CODEC_UNLIKE: {
    severity: 'warning',
    explanation: 'A camera recorded with another codec than the others.',
    remedy: 'Set the camera to the codec of the others, unless the difference is wanted.',
  },
  SCAN_UNLIKE: {
    severity: 'warning',
    explanation: 'A recorder recorded interlaced pictures and the others progressive ones, or the other way round.',
    remedy: 'Set the recorder to the scan type of the others; its footage must be converted to be cut with.',
  },
  DROP_FRAME_MIXED: {
    severity: 'critical',
    explanation:
      'At one frame rate, some timecode is counted drop-frame and some non-drop: the labels drift apart by 3.6 s an hour.',
    remedy: 'Set all recorders to one way of counting, and check this take by eye and ear.',
  },
  TIMECODE_FROM_ZERO: {
    severity: 'critical',
    explanation: 'A recorder began at zero while the others did not: it was left on its own clock.',
    remedy:
      'Connect it to the clock and set its timecode to external; check the place of its clips by a clap or by sound.',
  },
  TIMECODE_ONLY_WHILE_RECORDING: {
    severity: 'critical',
    explanation: "A recorder's timecode stood still between its clips while the others' ran on.",
    remedy: 'Set its timecode to run freely from the clock; check the place of its clips by a clap or by sound.',
  },
  TIMECODE_OFFSET: {
    severity: 'critical',
    explanation: "A recorder's timecode differs from the others' by one amount over several takes.",
    remedy:
      'Set its timecode by the clock again; compare a clap or a sound in one take before cutting, and move all its clips by the same amount.',
  },
  TIMECODE_DRIFTS: {
    severity: 'warning',
    explanation:
      "A recorder's timecode runs away from the others' as the day goes on: it ran on its own clock after being set.",
    remedy:
      'Leave it connected to the clock, or set it again at every break; check the later takes by a clap or by sound.',
  },
  TIMECODE_REPEATED: {
    severity: 'warning',
    explanation: 'Two clips of one recorder carry the same timecode on the same day.',
    remedy:
      'Find out by picture which of them ran with the others; check whether the timecode was set anew in between.',
  },
  TIMECODE_GAP: {
    severity: 'warning',
    explanation:
      'A recorder goes on within a second of where its clip before ended: frames may be lost between two files of one recording.',
    remedy: 'Look at the cut between the two clips; if frames are missing, the drive was too slow.',
  },
  SOUND_COUNTED_AT_OTHER_RATE: {
    severity: 'warning',
    explanation:
      'A sound file counted its samples since midnight at another rate than the pictures (the 0.1 % between 24 and 24000/1001): taken as it stands, it would lie up to 86 s off.',
    remedy:
      "Set the sound recorder's timecode to the rate of the pictures; the group holds the corrected place, an editing program may not.",
  },
  SOUND_MISSING: {
    severity: 'warning',
    explanation: 'A camera recorded no sound where the other cameras did, so it cannot be checked by ear.',
    remedy: "Switch the camera's sound on.",
  },
  SAMPLE_RATE_ODD: {
    severity: 'warning',
    explanation: 'Sound was recorded at another rate than the policy names (48 and 96 kHz).',
    remedy: 'Set the recorder to 48 kHz; this sound must be converted before it is cut.',
  },
  CLIP_EXISTS_TWICE: {
    severity: 'info',
    explanation: 'A recorder holds the same clip more than once; only one of them is grouped.',
    remedy: 'Nothing need be done; the footage was probably copied back onto the drive.',
  },
  DATE_FAR_FROM_SHOOT: {
    severity: 'warning',
    explanation: "A recorder's files are dated days away from the shoot.",
    remedy: "Set the recorder's calendar; if the footage is of another job, move the roll to its shoot.",
  },
  CLIP_DAMAGED: {
    severity: 'critical',
    explanation: 'A clip is cut off, has no index, holds nothing or has gaps.',
    remedy: 'Keep the drive as it is and watch the clip to its end; try to repair a copy, never the original.',
  },
  CLIP_WITHOUT_TIMECODE: {
    severity: 'warning',
    explanation: 'A clip holds no timecode, so it is in no group.',
    remedy: 'Line it up by sound or a clap, and check the timecode connection of the recorder.',
  },
  CLIP_NOT_PLACED: {
    severity: 'warning',
    explanation: 'A clip has timecode, but its label, rate or length cannot be used, so it is in no group.',
    remedy: 'Line it up by sound or a clap, and check the settings of the recorder.',
  },
} as const satisfies Readonly<Record<string, FindingEntry>>;

export type GroupingFindingCode = keyof typeof GROUPING_FINDINGS;
