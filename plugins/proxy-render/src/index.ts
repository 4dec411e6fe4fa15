import { definePlugin } from '@quayside/step-sdk';
import { render } from './render.ts';

// Whatever comes after the step gets its output typed.
export { render };

// oxlint-disable import/no-default-export -- a plugin is a default export
export default definePlugin({
  apiVersion: 1,
  name: 'proxy-render',
  version: '2.0.0',
  description: 'Makes the proxies of the plan, and checks that each cuts back to its original.',
  steps: [render],
});
