import { definePlugin } from '@quayside/step-sdk/built-in';
import { probe } from './probe.ts';

/** Tells what each clip is. */
export const probePlugin = definePlugin({ name: 'probe', version: '1', steps: [probe] });
