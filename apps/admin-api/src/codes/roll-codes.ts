import type { Codes } from './code-entry.ts';

/** About rolls, their verdicts and the runs that work on them. */
export const ROLL_CODES = {
  BAD_CONFIG: {
    meaning: 'A step was given a configuration that it does not take.',
    remedy: 'See the log of the service; correct the configuration of that step.',
  },
  BAD_INPUT: {
    meaning: 'A step was given inputs that it does not take.',
    remedy: 'See the log of the service and report it.',
  },
  BAD_OUTPUT: {
    meaning: 'A step gave an output that it does not promise.',
    remedy: 'See the log of the service and report it to the author of the plugin.',
  },
  EVENT_ID_UNKNOWN: {
    meaning: 'No event can have that id.',
    remedy: 'Give the id of the last event that was received, or 0.',
  },
  FACTS_MISSING: {
    meaning: 'The facts of some files could not be read, so their sync groups are not known.',
    remedy: 'Retry the roll with its drive connected.',
  },
  FACTS_NOT_READ: {
    meaning: 'The facts of a file could not be read.',
    remedy: 'Check that its drive is still connected.',
  },
  FACTS_PARSER_NOT_STARTED: {
    meaning: 'The process that reads facts could not be started.',
    remedy: 'Check that there is memory left and that the installation is whole.',
  },
  FACTS_READER_CLOSED: {
    meaning: 'The reading of facts ended with the service.',
    remedy: 'Nothing; the file is read again.',
  },
  IN_PROGRESS: {
    meaning: 'The footage is still being copied and proven.',
    remedy: 'Wait for the verdict.',
  },
  JUDGEMENT_DUE: {
    meaning: 'The drive is back and is being checked again.',
    remedy: 'Wait for the verdict.',
  },
  NOTHING_PROVEN: {
    meaning: 'No file of a roll is proven at a destination, so nothing can be sealed there.',
    remedy: 'Retry the roll.',
  },
  NOT_A_FILE: {
    meaning: 'Something that is no regular file was not opened.',
    remedy: 'Nothing.',
  },
  NOT_SEALED: {
    meaning: 'The manifest of a roll is not written at a destination.',
    remedy: 'See what is said of its copies there, then retry the roll.',
  },
  NO_FILES: {
    meaning: 'The drive holds no file any more.',
    remedy: 'Find out who emptied it before recording on it.',
  },
  PARCEL_UNKNOWN: {
    meaning: 'The list of files to copy was lost with Redis.',
    remedy: 'Nothing; the drive is listed again.',
  },
  ROLL_FOLDER_TAKEN: {
    meaning: 'A roll cannot move because a folder of its name is there.',
    remedy: 'Look at that folder first.',
  },
  RUN_KEEPS_CRASHING: {
    meaning: 'A run brought its worker down again and again and was given up.',
    remedy: 'See the log of the service, then retry the roll.',
  },
  RUN_STOPPED: {
    meaning: 'A run was stopped and is made again.',
    remedy: 'Nothing.',
  },
  TOO_FEW_COPIES: {
    meaning: 'A file has fewer proven copies on separate devices than `copies` asks for.',
    remedy: 'See to what is said of each destination, then retry the roll.',
  },
  UNEXPECTED: {
    meaning: 'Something unforeseen went wrong.',
    remedy: 'See the log of the service and report it.',
  },
  UNKNOWN: {
    meaning: 'The verdict could not be given.',
    remedy: 'Retry the roll.',
  },
  UNKNOWN_ROLL: {
    meaning: 'A roll is not known any more.',
    remedy: 'Connect its drive; it is taken in anew.',
  },
  UNKNOWN_STEP: {
    meaning: 'No plugin has a step of that name.',
    remedy: 'Check which plugins are loaded.',
  },
} as const satisfies Codes;
