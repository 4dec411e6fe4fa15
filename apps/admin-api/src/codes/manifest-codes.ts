import type { Codes } from './code-entry.ts';

/** About the hash-list histories and records beside the footage. */
export const MANIFEST_CODES = {
  CHAIN_GAP: {
    meaning: 'The generations of a history are not numbered without gaps.',
    remedy: 'Look for the missing manifests at another destination.',
  },
  CHAIN_MALFORMED: {
    meaning: 'The chain file of a history cannot be read.',
    remedy: 'Retry the roll; everything proven is recorded anew.',
  },
  CHAIN_MISSING: {
    meaning: 'A history has manifests but no chain file.',
    remedy: 'Retry the roll; everything proven is recorded anew.',
  },
  CHAIN_UNFINISHED: {
    meaning: 'The writing of a chain file was cut off.',
    remedy: 'Nothing; it is finished with the next generation.',
  },
  CLIP_NOT_PICTURED: {
    meaning: 'A sync group names a clip that the shoot does not have.',
    remedy: 'Group the shoot again.',
  },
  MANIFEST_ALTERED: {
    meaning: 'A manifest is not the one that the chain vouches for.',
    remedy: 'Compare with the history at another destination.',
  },
  MANIFEST_CONTENT: {
    meaning: 'A manifest with that content cannot be written.',
    remedy: 'Report it: it is a fault of the program.',
  },
  MANIFEST_DAMAGED: {
    meaning: "A roll's history at a destination is damaged.",
    remedy: 'Retry the roll; everything proven is recorded anew.',
  },
  MANIFEST_MALFORMED: {
    meaning: 'A manifest cannot be read.',
    remedy: 'Compare with the history at another destination.',
  },
  MANIFEST_MISSING: {
    meaning: 'A manifest that the chain names is not there.',
    remedy: 'Look for it at another destination.',
  },
  MANIFEST_NAME: {
    meaning: 'A path cannot stand in a manifest.',
    remedy: 'Store the file under a name that can be recorded.',
  },
  MANIFEST_NO_SHARED_HASH: {
    meaning: 'A file cannot be compared: it was recorded with other hashes.',
    remedy: 'Hash it with a recorded algorithm as well.',
  },
  MANIFEST_READ: {
    meaning: 'A manifest cannot be read from its drive.',
    remedy: 'Check that drive.',
  },
  MANIFEST_TAKEN: {
    meaning: "A manifest's name is taken by other content.",
    remedy: 'Move that file out of the folder, then try again.',
  },
  MANIFEST_BUSY: {
    meaning: 'Another process is writing to the same history, and did not end within half a minute.',
    remedy: 'Nothing; it is tried again. If no other process works on that folder, remove the file it names.',
  },
  MANIFEST_UNCHAINED: {
    meaning: 'A manifest is there that the chain does not name.',
    remedy: 'Nothing; it does not count.',
  },
  MANIFEST_UNSUPPORTED: {
    meaning: 'A manifest is of another version of the standard.',
    remedy: 'Verify the folder with a program that knows that version.',
  },
  MANIFEST_WRITE: {
    meaning: 'A manifest cannot be written.',
    remedy: 'Check the drive and its room, then retry the roll.',
  },
  NO_MANIFEST: {
    meaning: 'There is no history to compare with.',
    remedy: 'Name the folder of a roll at a destination.',
  },
  RECORD_UNREADABLE: {
    meaning: 'The record of a roll at a destination is missing or damaged, so nothing can be added to it.',
    remedy: 'Retry the roll.',
  },
  RECORD_REFUSED: {
    meaning: 'Single records of a manifest cannot be used.',
    remedy: 'Retry the roll; everything proven is recorded anew.',
  },
} as const satisfies Codes;
