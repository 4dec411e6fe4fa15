import type { Codes } from './code-entry.ts';

/** About copies, their names and their proof. */
export const COPY_CODES = {
  BAD_ROLL_ID: {
    meaning: 'A roll id is not made as roll ids are.',
    remedy: 'Use an id that the service has given.',
  },
  CHECKSUM_MISMATCH: {
    meaning: 'A copy differs from what was read from the drive; it was set aside.',
    remedy: "Check that destination's drive, then retry the roll.",
  },
  COPIES_AWAY: {
    meaning: 'The proven copies from which another was to be made cannot be reached.',
    remedy: 'Connect that destination, or the drive; it is tried again by itself.',
  },
  COPY_DAMAGED: {
    meaning: 'A copy was read again and is no longer what was proven.',
    remedy: 'Nothing at first where the service found it; else retry the roll, so that it is copied anew.',
  },
  COPY_GONE: {
    meaning: 'A proven copy is gone or was changed.',
    remedy: 'Find out why, then retry the roll.',
  },
  COPY_MISSING: {
    meaning: 'A copy that should be read is not there.',
    remedy: 'Retry the roll, so that it is copied anew.',
  },
  COPY_NOT_READ: {
    meaning: 'A proven copy from which another was to be made did not give what was proven.',
    remedy: 'Nothing at first; another copy or the drive is taken. Check the drive of that destination.',
  },
  COPY_UNREADABLE: {
    meaning: 'A copy cannot be read back.',
    remedy: "Check that destination's drive, then retry the roll.",
  },
  FILE_CHANGED: {
    meaning: 'A file is no longer the one that was listed or copied.',
    remedy: 'Keep the drive connected until it is copied again.',
  },
  FILE_NOT_PROVEN: {
    meaning: 'A file of the drive has no proven copy at a destination.',
    remedy: 'Keep the drive connected, or retry the roll.',
  },
  MADE_WAY: {
    meaning: 'What is kept is not read again while a drive is being taken in.',
    remedy: 'Nothing; it goes on by itself.',
  },
  MOVER_DIED: {
    meaning: 'A process that moved footage ended before its work was done. Nothing half-written has a final name.',
    remedy: 'Nothing; the work is done again.',
  },
  NAME_MAPPED: {
    meaning: 'A destination cannot hold a name, so the copy has another, and the record says which.',
    remedy: 'Nothing.',
  },
  NAME_NOT_BYTES: {
    meaning: 'A name stands for no bytes.',
    remedy: 'Have the drive listed again.',
  },
  NAME_REFUSED: {
    meaning: 'A destination takes no name or path of that length or kind.',
    remedy: 'Use a destination with another file system.',
  },
  NAME_TAKEN: {
    meaning: 'The name was taken by other content, so the copy has another; both are kept.',
    remedy: 'Look at both files.',
  },
  NOT_PROVEN_THERE: {
    meaning: 'Nothing on record says that a copy is proven there, so none is made from it.',
    remedy: 'Connect the drive, or retry the roll.',
  },
  NOT_READ_BACK: {
    meaning: 'Files were not read back, so they are not proven.',
    remedy: 'Retry the roll.',
  },
  PATH_ESCAPES: {
    meaning: 'A path leads out of its folder and is refused.',
    remedy: 'Look at the file of that name on the drive.',
  },
  READ_BACK_CACHED: {
    meaning: 'A copy could only be read back through the cache, which proves nothing about the medium.',
    remedy: 'Prove the roll on another computer, or accept it in the configuration (`cachedReadBack`).',
  },
  SOURCE_NOT_AS_PROVEN: {
    meaning: 'What was to be copied on is no longer what was proven, so no copy was made of it.',
    remedy: 'Nothing at first; another copy or the drive is taken. Check the drive of that destination.',
  },
  WORK_STOPPED: {
    meaning: 'Work was stopped before its end; what was done is recorded.',
    remedy: 'Nothing; the rest is done next time.',
  },
} as const satisfies Codes;
