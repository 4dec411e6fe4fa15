import { definePlugin } from '@quayside/step-sdk/built-in';
import { checksum } from './checksum.ts';
import { reread } from './reread.ts';

/** Proves copies: reads them back from the medium, and again as long as they are kept. */
export const checksumPlugin = definePlugin({ name: 'checksum', version: '1', steps: [checksum, reread] });
