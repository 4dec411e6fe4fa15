import { GROUPING_FINDINGS } from '@quayside/sync-grouping';
import type { Codes } from './code-entry.ts';
import { COPY_CODES } from './copy-codes.ts';
import { DESTINATION_CODES } from './destination-codes.ts';
import { DRIVE_CODES } from './drive-codes.ts';
import { MANIFEST_CODES } from './manifest-codes.ts';
import { PLUGIN_CODES } from './plugin-codes.ts';
import { MESSAGE_CODES } from './message-codes.ts';
import { ROLL_CODES } from './roll-codes.ts';
import { SERVICE_CODES } from './service-codes.ts';
import { TIMECODE_CODES } from './timecode-codes.ts';
import { UNGROUPED_CODES } from './ungrouped-codes.ts';

/** Every code that Quayside itself tells of. Codes are never used again for something else; plugins bring their own. */
export const CODES: Codes = {
  ...DRIVE_CODES,
  ...COPY_CODES,
  ...DESTINATION_CODES,
  ...ROLL_CODES,
  ...MANIFEST_CODES,
  ...SERVICE_CODES,
  ...PLUGIN_CODES,
  ...MESSAGE_CODES,
  ...TIMECODE_CODES,
  ...UNGROUPED_CODES,
  ...Object.fromEntries(
    Object.entries(GROUPING_FINDINGS).map(([code, { explanation, remedy }]) => [
      code,
      { meaning: explanation, remedy },
    ]),
  ),
};
