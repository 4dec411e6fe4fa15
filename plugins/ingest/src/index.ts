import { definePlugin } from '@quayside/step-sdk/built-in';
import { ingest } from './ingest.ts';
import { intake } from './intake.ts';
import { recopy } from './recopy.ts';

/** Takes volumes in: plans what a settled volume needs, and copies it; from a proven copy where the drive is away. */
export const ingestPlugin = definePlugin({ name: 'ingest', version: '1', steps: [intake, ingest, recopy] });
