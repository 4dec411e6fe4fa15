import { readFileSync } from 'node:fs';
import { copyParcel } from './copy-parcel.ts';
import { createDestinationMemory } from '../destination/destination-memory.ts';
import { calmControls } from '../media-files.test-support.ts';
import { createWorkbench } from '../workbench/workbench.ts';

// Carries out the copy request in the file named on the command line, so that a test can trace the process.
const request = JSON.parse(readFileSync(process.argv[2] ?? '', 'utf8'));
const outcomes = await copyParcel(request, calmControls(), {
  workbench: createWorkbench(),
  memory: createDestinationMemory(),
});
if (outcomes.some(({ state }) => state !== 'written')) throw new Error(JSON.stringify(outcomes));
