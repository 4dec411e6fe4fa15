import type { RollEvent } from '@quayside/pipeline';
import { Failure, Instant, type RunRequest } from '@quayside/shoot';
import { z } from 'zod';
import { Failed, failedFindings, runFinding } from './findings-of-run.ts';

const About = z.object({ visit: z.number(), destination: z.string(), since: Instant });
const Reread = About.extend({
  parcel: z.number(),
  badFiles: z.number(),
  failure: Failure.nullable(),
  failedPaths: Failed,
});
const Attested = About.extend({ generation: z.number(), readBackAt: Instant });

/** What a run of reading again that ended well means for its roll, whatever it found. */
export function eventOfReread(run: RunRequest, output: unknown, now: Instant): RollEvent {
  if (run.step === 'attest') return { type: 'rereadRecorded', ...Attested.parse(output) };
  const { failedPaths, ...reread } = Reread.parse(output);
  const named = failedPaths.map((file) => ({ ...file, destination: reread.destination }));
  const findings = failedFindings(run, named, now).map((finding) => ({ ...finding, remedy: MADE_ANEW }));
  return { type: 'parcelReread', ...reread, findings };
}

/** A reading again that came to nothing says nothing about the copies. That a destination was away is no finding either. */
export function eventOfFailedReread(run: RunRequest, failure: Failure, now: Instant): RollEvent {
  const { visit, destination, since } = About.parse(run.inputs);
  const findings =
    failure.retry === 'destination'
      ? []
      : [{ ...runFinding(run, failure, now), severity: 'warning' as const, remedy: REMEDIES[run.step] ?? '' }];
  return { type: 'rereadFailed', visit, destination, since, failure, findings };
}

const MADE_ANEW =
  'A fresh copy is made by itself, from the drive or from another proven copy, as often as verify.repairs allows. See to the disk of that destination.';

const REMEDIES: Readonly<Record<string, string>> = {
  reread:
    'Its copies could not be read again to the end; that is tried again later. See to the disk of that destination.',
  attest:
    'Its copies were read again, but that could not be put on record there. Do what is said, then verify it again.',
};
