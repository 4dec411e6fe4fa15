import { definePlugin } from '@quayside/step-sdk';
import { measure } from './measure.ts';

// Whatever comes after the step gets its output typed.
export { measure };
export { TrackLoudness } from './track-loudness.ts';

// oxlint-disable import/no-default-export -- a plugin is a default export
export default definePlugin({
  apiVersion: 1,
  name: 'loudness',
  version: '1.0.0',
  description:
    'Measures the loudness of every sound track after EBU R 128, and finds silence, clipping and dead channels.',
  steps: [measure],
});
