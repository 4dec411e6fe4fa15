import type { Codes } from './code-entry.ts';

/** About destinations. */
export const DESTINATION_CODES = {
  DESTINATION_AWAY: {
    meaning: 'A destination is not there, so its copies cannot be looked at.',
    remedy: 'Connect it; the roll is judged again by itself.',
  },
  DESTINATION_BOOK_DAMAGED: {
    meaning: 'The list of known destinations in the data folder cannot be read.',
    remedy: 'Check that every destination is connected, then remove that file.',
  },
  DESTINATION_FULL: {
    meaning: 'A destination has no room left.',
    remedy: 'Make room; the work goes on by itself.',
  },
  DESTINATION_GONE: {
    meaning: 'A destination went away while it was written to.',
    remedy: 'Connect it; the work goes on by itself.',
  },
  DESTINATION_INSIDE_SOURCE: {
    meaning: "A destination lies on a recorder's drive, which is never written.",
    remedy: 'Point it at another device.',
  },
  DESTINATION_IN_MEMORY: {
    meaning: 'A destination lies in memory and counts as no copy.',
    remedy: 'Point it at a drive.',
  },
  DESTINATION_ON_DRIVE: {
    meaning: 'A destination lies on the same disk as the drive that is judged and counts as no copy.',
    remedy: 'Point it at another disk.',
  },
  DESTINATION_IO_ERROR: {
    meaning: "A destination's drive gives errors.",
    remedy: 'Check that drive before anything else is copied to it.',
  },
  DESTINATION_MISSING: {
    meaning: "A destination's folder cannot be found.",
    remedy: 'Connect it, or correct its path in the configuration.',
  },
  DESTINATION_NOT_MOUNTED: {
    meaning: "The path holds no marker, or another destination's; nothing was written.",
    remedy: 'Connect the right drive. Do not make the marker by hand.',
  },
  DESTINATION_READ_ONLY: {
    meaning: 'A destination can only be read.',
    remedy: 'Mount it so that it can be written.',
  },
  DESTINATION_SKIPPED: {
    meaning: 'A destination did not take the roll.',
    remedy: 'See what is said of it, then retry the roll.',
  },
  DESTINATION_TOO_SMALL: {
    meaning: 'The whole roll does not fit at a destination beside what is promised to others.',
    remedy: 'Make room there; it goes on by itself.',
  },
  DESTINATION_UNKNOWN: {
    meaning: 'A destination is not in the configuration any more.',
    remedy: 'Put it back, or retry the roll without it.',
  },
  DESTINATION_UNWRITABLE: {
    meaning: 'The service may not write at a destination.',
    remedy: 'Make that folder writable for the user of the service.',
  },
  DESTINATION_WRITE_FAILED: {
    meaning: 'Writing at a destination failed in an unforeseen way.',
    remedy: 'See the log of the service and try again.',
  },
  DEVICE_UNKNOWN: {
    meaning: 'It is not known on which device a destination lies, so it counts as no copy.',
    remedy: 'Use a destination whose device can be told.',
  },
  FOLDER_UNREACHABLE: {
    meaning: 'No mount was found for a folder.',
    remedy: 'Check that it is still mounted.',
  },
  DESTINATION_SILENT: {
    meaning: 'A destination is there but does not answer.',
    remedy: 'Check its cable, its power or its server; the work goes on by itself when it answers.',
  },
  ONE_DEVICE: {
    meaning: 'Destinations share a device and count as one copy.',
    remedy: 'Put one of them on another drive.',
  },
} as const satisfies Codes;
