import { Failure, type Finding, type Instant, type Remedy, type RunRequest } from '@quayside/shoot';
import { z } from 'zod';

/** Files that failed in a run, as steps tell of them. */
export const Failed = z.array(z.object({ destination: z.string().optional(), path: z.string(), failure: Failure }));

/** A finding for each file that failed, about it at its destination. */
export function failedFindings(run: RunRequest, failed: z.output<typeof Failed>, now: Instant): readonly Finding[] {
  return failed.map(({ destination, path, failure }) => ({
    code: failure.code,
    severity: 'critical',
    subject: { kind: 'clip', id: destination === undefined ? run.subject : `${run.subject}@${destination}`, path },
    why: failure.sentence,
    remedy: REMEDIES[failure.retry],
    at: now,
  }));
}

/** What happens by itself, and what is left to a person, for each kind of failure. */
export const REMEDIES: Readonly<Record<Remedy, string>> = {
  never: 'The roll holds; keep the drive, and retry the roll when the cause is mended.',
  later: 'The roll holds; it is tried again by itself. Keep the drive connected.',
  source: 'The roll holds; connect the drive again, and it goes on by itself.',
  destination: 'The roll holds; see to the destination, and it goes on by itself.',
  copy: 'The roll holds; a fresh copy is made by itself, as often as verify.repairs allows. Keep the drive, and see to the disk of that destination.',
};

/** A finding about a run that failed for good. */
export function runFinding(run: RunRequest, failure: Failure, now: Instant): Finding {
  return {
    code: failure.code,
    severity: 'critical',
    subject: { kind: 'roll', id: run.subject },
    why: failure.sentence,
    remedy: 'The roll holds; keep the drive, and retry the roll when the cause is mended.',
    at: now,
  };
}
