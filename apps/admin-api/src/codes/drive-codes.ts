import type { Codes } from './code-entry.ts';

/** About drives and what lies on them. */
export const DRIVE_CODES = {
  CLOCK_BEFORE_FOOTAGE: {
    meaning: "The newest file is dated later than this computer's clock.",
    remedy: 'Set the clock that is wrong; the roll is filed under today.',
  },
  FILE_UNREADABLE: {
    meaning: 'A file or folder on the drive cannot be read.',
    remedy: 'Look at the drive on its recorder before anything else.',
  },
  RECORDER_CLOCK_UNSET: {
    meaning: 'The files are dated as by a recorder whose clock was never set.',
    remedy: "Set the recorder's clock; the roll is filed under today.",
  },
  ROOT_UNREADABLE: {
    meaning: 'A folder in which volumes appear cannot be listed.',
    remedy: 'Check its rights and its drive.',
  },
  MOUNT_TABLE_UNREADABLE: {
    meaning: "The system's list of mounted drives cannot be read.",
    remedy: 'See the log of the service; nothing is taken for gone meanwhile.',
  },
  SOURCE_CHANGED: {
    meaning: 'A file changed while or before it was copied.',
    remedy: 'Let the recorder finish; the drive is then listed again by itself.',
  },
  SOURCE_GONE: {
    meaning: 'The drive is not there.',
    remedy: 'Connect it again, now or another day; the work goes on by itself.',
  },
  SOURCE_READS_DIFFER: {
    meaning: 'Two readings of one file gave different bytes.',
    remedy: 'Do not record over the drive; try another reader or cable.',
  },
  SOURCE_READ_ERROR: {
    meaning: 'The drive gives an error at a place in a file.',
    remedy: 'Look at the drive on its recorder before anything else; the rest is copied.',
  },
  SOURCE_UNREADABLE: {
    meaning: 'A file of the drive cannot be opened.',
    remedy: 'Check its rights and the drive, then retry the roll.',
  },
  SPECIAL_FILE: {
    meaning: 'A link, pipe or device lies on the drive; it is neither followed nor copied.',
    remedy: 'If it stands for footage, copy that by hand.',
  },
  VOLUME_SILENT: {
    meaning: 'The drive is connected, and nothing on it can be read.',
    remedy: 'Check its cable, its reader and its power; the work goes on by itself when it answers again.',
  },
  VOLUME_SOUGHT: {
    meaning: 'The service has just started and looks for its drives.',
    remedy: 'Wait a moment.',
  },
  VOLUME_AWAY: {
    meaning: 'The drive is not connected, so no verdict counts for it.',
    remedy: 'Connect it; it is judged by itself.',
  },
  VOLUME_CHANGED: {
    meaning: 'What the drive holds has changed since it was judged.',
    remedy: 'Wait until it has settled and is copied.',
  },
  VOLUME_TWIN: {
    meaning: 'Two connected drives cannot be told apart; neither is copied.',
    remedy: 'Disconnect one of them.',
  },
  VOLUME_UNREADABLE: {
    meaning: 'The drive cannot be listed.',
    remedy: 'Check the drive and its cable.',
  },
  VOLUME_MARKER_NOT_WRITTEN: {
    meaning: 'A folder could not be made a volume.',
    remedy: 'Choose a folder that is writable and is none yet.',
  },
  VOLUME_MARKER_UNREADABLE: {
    meaning: "A folder's volume marker cannot be read.",
    remedy: 'Make the folder a volume anew.',
  },
  WATCH_FAILED: {
    meaning: 'The system tells no more when something appears; drives are seen at the next look.',
    remedy: 'Check the folders in which drives appear.',
  },
  WATCH_LIMIT_REACHED: {
    meaning: 'The system watches no more folders; drives are seen at the next look.',
    remedy: 'Raise the limit that the message names.',
  },
  WEAK_IDENTITY: {
    meaning: 'The drive can only be told by its label and size.',
    remedy: 'Format it on its recorder once its footage is clear.',
  },
} as const satisfies Codes;
