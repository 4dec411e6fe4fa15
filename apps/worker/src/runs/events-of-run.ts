import { isStoredUnderOwnName } from '@quayside/media-files';
import type { RollEvent } from '@quayside/pipeline';
import { Clearance, Failure, Finding, Instant, type RunRequest, type Severity } from '@quayside/shoot';
import { z } from 'zod';
import { eventOfFailedReread, eventOfReread } from './events-of-reread.ts';
import { Failed, failedFindings, REMEDIES, runFinding } from './findings-of-run.ts';

const Copied = z.object({
  visit: z.number(),
  parcel: z.number(),
  outcome: z.record(z.string(), Failure.nullable()),
  failedPaths: Failed,
  renamed: z.array(z.object({ destination: z.string(), path: z.string(), storedPath: z.string() })),
});
const Recopied = Copied.extend({ from: z.string(), fromFailure: Failure.nullable() });
const ReadBack = z.object({
  visit: z.number(),
  parcel: z.number(),
  destination: z.string(),
  failure: Failure.nullable(),
  failedPaths: Failed,
});
const Sealed = z.object({
  visit: z.number(),
  destination: z.string(),
  attempt: z.number(),
  generation: z.number(),
  readBackAt: Instant,
});
const Probed = z.object({
  visit: z.number(),
  isComplete: z.boolean(),
  unread: z.array(z.object({ path: z.string(), failure: Failure })),
});
const Judged = z.object({
  due: z.number(),
  clearance: Clearance,
  findings: z.array(Finding),
  bad: z.array(z.object({ parcel: z.number(), destination: z.string(), failure: Failure })),
});

/** What a run that ended well means for its roll; null when it means nothing to it. */
export function eventOfOutput(run: RunRequest, output: unknown, now: Instant): RollEvent | null {
  switch (run.step) {
    case 'probe': {
      const { unread, ...probed } = Probed.parse(output);
      return { type: 'factsRead', ...probed, findings: unread.map((file) => unreadFinding(run, file, now)) };
    }
    case 'ingest': {
      const { failedPaths, renamed, ...copied } = Copied.parse(output);
      return { type: 'parcelCopied', ...copied, findings: copyFindings(run, { failedPaths, renamed }, now) };
    }
    case 'recopy': {
      const { failedPaths, renamed, ...recopied } = Recopied.parse(output);
      return { type: 'parcelRecopied', ...recopied, findings: copyFindings(run, { failedPaths, renamed }, now) };
    }
    case 'checksum': {
      const { failedPaths, ...readBack } = ReadBack.parse(output);
      const named = failedPaths.map((file) => ({ ...file, destination: readBack.destination }));
      return { type: 'parcelReadBack', ...readBack, findings: failedFindings(run, named, now) };
    }
    case 'seal':
      return { type: 'sealed', ...Sealed.parse(output) };
    case 'reread':
    case 'attest':
      return eventOfReread(run, output, now);
    case 'clearance': {
      const { findings, ...judged } = Judged.parse(output);
      const damage = judged.bad.map(({ destination, failure }) => damageFinding(run, { destination, failure }, now));
      return { type: 'judged', ...judged, findings: [...findings, ...damage] };
    }
    case 'move':
      return { type: 'moved', ...z.object({ shootId: z.string() }).parse(output) };
    case 'notification':
      return { type: 'told', ...z.object({ matter: z.string() }).parse(output) };
    default:
      return null;
  }
}

const IngestInputs = z.object({ visit: z.number(), parcel: z.number(), destinations: z.array(z.string()) });
const ChecksumInputs = z.object({ visit: z.number(), parcel: z.number(), destination: z.string() });
const SealInputs = z.object({ visit: z.number(), destination: z.string(), attempt: z.number() });

/**
 * What a run that failed for good means for its roll. A source that is away means nothing: the watcher says when it left,
 * and the state keeps wanting the work.
 */
export function eventOfFailure(run: RunRequest, failure: Failure, now: Instant): RollEvent | null {
  if (failure.retry === 'source') return null;
  switch (run.step) {
    case 'probe':
      return {
        type: 'factsRead',
        visit: z.object({ visit: z.number() }).parse(run.inputs).visit,
        isComplete: true,
        findings: [factsFinding(run, failure, now)],
      };
    case 'ingest':
    case 'recopy': {
      const { destinations, ...inputs } = IngestInputs.parse(run.inputs);
      return {
        type: 'parcelCopied',
        ...inputs,
        outcome: Object.fromEntries(destinations.map((name) => [name, failure])),
        findings: [runFinding(run, failure, now)],
      };
    }
    case 'checksum':
      return {
        type: 'parcelReadBack',
        ...ChecksumInputs.parse(run.inputs),
        failure,
        findings: [runFinding(run, failure, now)],
      };
    case 'reread':
    case 'attest':
      return eventOfFailedReread(run, failure, now);
    case 'seal':
      return { type: 'sealFailed', ...SealInputs.parse(run.inputs), failure };
    case 'clearance':
      return {
        type: 'judged',
        due: z.object({ due: z.number() }).parse(run.inputs).due,
        clearance: { verdict: 'hold', judgedAt: now, reasons: [{ code: failure.code, sentence: failure.sentence }] },
        findings: [],
      };
    case 'move':
      return { type: 'moveFailed', finding: runFinding(run, failure, now) };
    default:
      return null;
  }
}

/** Without facts a clip is copied and proven all the same; only the edit misses something. */
function factsFinding(run: RunRequest, failure: Failure, now: Instant): Finding {
  return {
    code: 'FACTS_MISSING',
    severity: 'warning',
    subject: { kind: 'roll', id: run.subject },
    why: `What the clips of roll ${run.subject} are could not be read: ${failure.sentence}`,
    remedy: 'They are copied and proven all the same; connect the drive again to have them read.',
    at: now,
  };
}

function unreadFinding(run: RunRequest, file: { path: string; failure: Failure }, now: Instant): Finding {
  return {
    code: 'FACTS_MISSING',
    severity: 'warning',
    subject: { kind: 'clip', id: run.subject, path: file.path },
    why: `What "${file.path}" is could not be read: ${file.failure.sentence}`,
    remedy: 'It is in no sync group; look at the file before the set is taken down.',
    at: now,
  };
}

function copyFindings(
  run: RunRequest,
  { failedPaths, renamed }: Pick<z.output<typeof Copied>, 'failedPaths' | 'renamed'>,
  now: Instant,
): readonly Finding[] {
  return [...failedFindings(run, failedPaths, now), ...renamed.map((file) => nameFinding(run, file, now))];
}

function damageFinding(
  run: RunRequest,
  { destination, failure }: { destination: string; failure: Failure },
  now: Instant,
): Finding {
  return {
    code: failure.code,
    severity: 'critical',
    subject: { kind: 'roll', id: `${run.subject}@${destination}` },
    why: failure.sentence,
    remedy: REMEDIES[failure.retry],
    at: now,
  };
}

function nameFinding(
  run: RunRequest,
  file: { destination: string; path: string; storedPath: string },
  now: Instant,
): Finding {
  const isMapped = isStoredUnderOwnName(file.path, file.storedPath);
  return {
    code: isMapped ? 'NAME_MAPPED' : 'NAME_TAKEN',
    severity: isMapped ? 'info' : ('warning' satisfies Severity),
    subject: { kind: 'clip', id: `${run.subject}@${file.destination}`, path: file.path },
    why: isMapped
      ? `"${file.path}" lies at ${file.destination} as "${file.storedPath}", because its own name cannot be held there.`
      : `The name "${file.path}" was taken at ${file.destination} by other content, so this file lies there as "${file.storedPath}"; both are kept.`,
    remedy: isMapped
      ? 'Nothing to do: the record beside the footage tells both names.'
      : 'Look at both files and decide which one is wanted.',
    at: now,
  };
}
