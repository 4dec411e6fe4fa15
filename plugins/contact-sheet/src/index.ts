import { definePlugin } from '@quayside/step-sdk';
import { draw } from './draw.ts';

// Whatever comes after the step gets its output typed.
export { draw };

// oxlint-disable import/no-default-export -- a plugin is a default export
export default definePlugin({
  apiVersion: 1,
  name: 'contact-sheet',
  version: '1.0.0',
  description: 'Draws frames of every clip with timecode and recorder, one picture for each sync group.',
  steps: [draw],
});
