import { definePlugin } from '@quayside/step-sdk/built-in';
import { attest } from './attest.ts';
import { clearance } from './clearance.ts';
import { move } from './move.ts';
import { seal } from './seal.ts';

/** Seals rolls and answers the one question: may this drive be recorded over? */
export const clearancePlugin = definePlugin({
  name: 'clearance',
  version: '1',
  steps: [seal, clearance, move, attest],
});
