import { definePlugin } from '@quayside/step-sdk/built-in';
import { checksum } from './checksum.ts';

/** Proves copies: reads them back from the medium. */
export const checksumPlugin = definePlugin({ name: 'checksum', version: '1', steps: [checksum] });
