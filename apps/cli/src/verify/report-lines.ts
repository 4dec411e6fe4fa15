import type { FileVerdict } from '@quayside/hash-lists';
import { printable } from '../screen/printable.ts';
import { countText } from '../screen/quantities.ts';
import type { Recording } from './record-verification.ts';
import { countVerdicts } from './sum-up.ts';
import type { Verification } from './verify-folder.ts';

/** What a verification found, for a person: everything that is not as recorded by name, and then the sum. */
export function reportLines(verification: Verification, recording: Recording | null): string[] {
  const { history, verdicts, unreadable, specials } = verification;
  const counts = countVerdicts(verification);
  const generations = countText(history.generations.length, 'generation');
  return [
    ...history.faults.map(({ sentence }) => `MANIFEST    ${printable(sentence)}`),
    ...verdicts.flatMap(lineFor),
    ...unreadable.map(({ path, why }) => `UNREADABLE  ${printable(path)}: ${printable(why)}`),
    ...specials.map(({ path, kind }) => `NOT A FILE  ${printable(path)}: a ${kind}, which is not followed`),
    `${printable(verification.root)}: ${countText(counts.verified, 'file')} as recorded (${generations} of manifests); ${counts.failed} damaged, ${counts.missing} missing, ${counts.unreadable} unreadable, ${counts.new} without a record.`,
    ...(counts.fromCache === 0
      ? []
      : [
          `${countText(counts.fromCache, 'file')} could not be read past the memory cache, so the medium itself is not proven for them. Connect the drive anew, then verify again.`,
        ]),
    ...recordingLines(recording),
  ];
}

function lineFor(verdict: FileVerdict): string[] {
  const path = printable(verdict.path);
  switch (verdict.verdict) {
    case 'verified':
      return [];
    case 'failed':
      return [
        `DAMAGED     ${path}: ${verdict.mismatches.map(({ what, expected, found }) => `${what} is ${found}, recorded is ${expected}`).join('; ')}`,
      ];
    case 'missing':
      return [`MISSING     ${path}`];
    case 'new':
      return [`NO RECORD   ${path}`];
    case 'unproven':
      return [`UNPROVEN    ${path}: its record holds no hash that could be compared`];
  }
}

function recordingLines(recording: Recording | null): string[] {
  if (recording === null) return [];
  if (recording.state === 'not-recorded') return [`Not recorded: ${printable(recording.why).replace(/\.$/, '')}.`];
  return [
    ...recording.setAside.map((place) => `SET ASIDE   ${printable(place)}`),
    recording.isNew
      ? `Recorded as generation ${recording.generation}.`
      : `Generation ${recording.generation} records the same already.`,
  ];
}
